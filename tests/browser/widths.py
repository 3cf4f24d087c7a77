"""How much wider than its screen a page is."""

from playwright.sync_api import Page

OVER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def overflow(page: Page) -> int:
    """Pixels the page goes over its screen, once it is loaded.

    A press on a link returns before the next page has a document to be measured.
    """
    page.wait_for_load_state("load")
    page.wait_for_function("() => document.documentElement && document.body")
    return int(page.evaluate(OVER))
