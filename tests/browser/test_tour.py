"""The tour of the README in a real browser: see, tick, release, fail, and be told."""

import pytest
from playwright.sync_api import Page, expect, sync_playwright

from inspections.checker.finding import Verdict
from inspections.models import Outcome
from inspections.services.observations import items_observe
from tests.browser.widths import overflow
from tests.conftest import CHROMIUM

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def page(monkeypatch):
    # The browser's driver runs an event loop in this thread; Django is called from it no less.
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser.new_page(viewport={"width": 390, "height": 844})
        browser.close()


def sign_in(page: Page, address: str, person) -> None:
    page.context.clear_cookies()
    page.goto(f"{address}/sign-in/")
    page.get_by_label("Name").fill(person.username)
    page.get_by_label("Password").fill("rough-in")
    page.get_by_role("button", name="Sign in").click()


def test_a_crew_ticks_the_office_releases_and_the_builder_is_told(
    page, live_server, shop, house_bytes
) -> None:
    job = shop.roughed_in(house_bytes)
    looks = job.items.filter(verdict=Verdict.VERIFY)
    last = looks.get(rule="communications-separation", subject="D9")
    items_observe(shop.member, items=list(looks.exclude(id=last.id)), outcome=Outcome.OK)
    shop.confirm(job)

    sign_in(page, live_server.url, shop.lead)
    page.get_by_role("link", name=job.name, exact=True).click()
    room = page.locator(f'details.room[data-room="{last.finding["room"]}"]').first
    room.locator("summary").first.click()
    line = page.locator(f"#item-{last.id}")
    line.locator("summary").first.click()
    line.get_by_label("Note").fill("walked it")
    line.get_by_role("button", name="OK", exact=True).click()
    expect(page.get_by_text("all OK")).not_to_have_count(0)
    assert last.observations.get().note == "walked it"

    sign_in(page, live_server.url, shop.office)
    page.get_by_role("link", name=job.name, exact=True).click()
    head = page.get_by_role("heading", name="Garage", exact=True, level=2)
    garage = page.locator("details.area-head", has=head)
    garage.locator("summary").first.click()
    expect(garage.get_by_text("The inspector has not accepted this area yet.")).to_be_visible()
    page.locator("#inspections > summary").click()
    page.get_by_role("checkbox", name="Garage", exact=True).check()
    page.get_by_role("button", name="Request inspection").click()
    page.get_by_text("Record what happened").click()
    page.get_by_label("Day", exact=True).fill("2026-03-02")
    page.get_by_label("From", exact=True).fill("09:00")
    page.get_by_label("To", exact=True).fill("11:00")
    page.get_by_role("button", name="Record this event").click()
    page.get_by_text("Record the inspector's result", exact=True).click()
    page.get_by_label("The authority's reference").fill("FH-1/R1")
    page.get_by_role("button", name="Record result").click()
    garage.locator("summary").first.click()
    garage.get_by_role("button", name="Release Garage for cover").click()
    expect(garage.get_by_text("OK TO COVER", exact=True)).to_be_visible()

    sign_in(page, live_server.url, shop.builder)
    told = "Lot 15, Garage: released. OK TO COVER. Reference FH-1/R1."
    expect(page.get_by_role("link", name=told)).to_be_visible()
    page.get_by_role("link", name=job.name, exact=True).click()
    expect(page.get_by_text("OK to cover this area.")).to_have_count(1)
    expect(page.get_by_text("Do not cover.")).to_have_count(2)
    assert overflow(page) <= 0
