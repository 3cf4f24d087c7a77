"""What tests in a browser share: how long they wait for a page, and a lead's phone on a walk."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import expect, sync_playwright

from jobs.models import Job
from tests.browser.phones import Phone

# As long as for a click: a busy machine takes its time.
expect.set_options(timeout=30_000)


@pytest.fixture
def lead_walk(
    monkeypatch, tmp_path, live_server, shop, planted_bytes
) -> Iterator[tuple[Phone, Job]]:
    """A lead's phone with the walk of the planted house open; it is killed at the end."""
    from tests.browser.test_walk import open_walk

    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    job = shop.roughed_in(planted_bytes)
    with sync_playwright() as driver:
        phone = Phone(driver, tmp_path / "lead")
        try:
            phone.start()
            open_walk(phone, live_server.url, shop.lead, job)
            yield phone, job
        finally:
            phone.kill()
