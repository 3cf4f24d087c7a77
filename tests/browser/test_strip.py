"""Every place of the strip is in sight on a phone, for whoever has the most and the fewest."""

import pytest
from playwright.sync_api import sync_playwright

from tests.browser.test_tour import FLAGS, sign_in
from tests.conftest import CHROMIUM

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
OUTSIDE = """() => [...document.querySelectorAll(".strip a, .strip button")]
    .filter((each) => {
        const { left, right } = each.getBoundingClientRect();
        return left < 0 || right > innerWidth;
    }).map((each) => each.textContent)"""


@pytest.mark.parametrize("who", ["office", "builder", "member"])
@pytest.mark.parametrize("language", ["en", "fr", "es"])
def test_nothing_of_the_strip_is_cut_off(monkeypatch, live_server, shop, who, language) -> None:
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport={"width": 390, "height": 844})
        sign_in(page, live_server.url, getattr(shop, who))
        page.set_extra_http_headers({"Accept-Language": language})
        page.goto(live_server.url)
        assert page.locator(".strip button").count() == 1
        assert page.evaluate(OUTSIDE) == []
        wider = "document.querySelector('.strip').scrollWidth > innerWidth"
        assert not page.evaluate(wider)
        browser.close()
