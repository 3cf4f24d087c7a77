"""The office's first page as a browser loads it: one round of requests, and nothing that jumps."""

import pytest
from playwright.sync_api import sync_playwright

from jobs.models import Job
from tests.browser.test_tour import FLAGS, sign_in
from tests.clocks import house_day
from tests.conftest import CHROMIUM

JOBS = 60
pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
SHIFTS = """() => new Promise(done => {
  let sum = 0;
  new PerformanceObserver(list => { for (const each of list.getEntries()) sum += each.value; })
    .observe({ type: "layout-shift", buffered: true });
  setTimeout(() => done(sum), 400);
})"""
ROUNDS = """() => performance.getEntriesByType("resource")
  .map(each => [each.name.split("/").pop(), each.initiatorType])"""


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser.new_page(viewport={"width": 1280, "height": 900})
        browser.close()


def test_the_first_page_comes_in_one_round_and_nothing_jumps(page, live_server, shop) -> None:
    for number in range(JOBS):
        job = shop.job(f"Lot {number}")
        Job.objects.filter(id=job.id).update(drywall_on=house_day(number % 20))
    sign_in(page, live_server.url, shop.office)
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(f"{live_server.url}/today/")
        assert page.evaluate(SHIFTS) == 0, width
        asked = page.evaluate(ROUNDS)
        assert {name for name, _ in asked} == {
            "sheet.css",
            "htmx-2.0.11.min.js",
            "IBMPlexSansCondensed-Regular.woff2",
            "IBMPlexSansCondensed-SemiBold.woff2",
        }
        assert {how for _, how in asked} <= {"link", "script"}, asked
