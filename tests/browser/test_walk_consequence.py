"""On a phone without signal: what a fault in a released area does is said before it is kept."""

import time

import pytest
from playwright.sync_api import expect

from config.messages.kept import in_english
from inspections.models import CoverRelease, Item, Observation
from tests.browser.phones import Phone
from tests.browser.test_walk import WRITTEN, driver, open_walk, site  # noqa: F401  two are fixtures
from tests.browser.walking import open_anywhere
from tests.inspections.tiny import HOUSES

pytestmark = [
    pytest.mark.browser,
    pytest.mark.postgresql,
    pytest.mark.django_db(transaction=True),
]
SAYS = "This withdraws the cover release of East. The builder, the office and the crew lead"


@pytest.fixture
def phone(driver, tmp_path):  # noqa: F811
    made = Phone(driver, tmp_path / "member")
    made.start()
    yield made
    made.kill()


def test_a_fail_is_confirmed_before_it_waits_to_be_sent(site, phone, shop) -> None:  # noqa: F811
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(area)
    seen = Observation.objects.count()
    open_walk(phone, site.address, shop.member, job)
    page = phone.page
    page.wait_for_timeout(WRITTEN)
    site.kill()  # no signal
    item = area.items.filter(verdict="verify", stage=Item.Stage.ROUGH_IN).first()
    card = open_anywhere(page, item.id)
    card.get_by_placeholder("note").fill("a loose staple")

    card.get_by_role("button", name="Fix").click()
    expect(card.get_by_role("alert")).to_contain_text(SAYS)
    expect(page.locator("#unsafe")).to_have_attribute("data-count", "0")
    card.get_by_role("button", name="Cancel: record nothing").click()
    expect(card.get_by_role("alert")).to_have_count(0)
    expect(card.get_by_placeholder("note")).to_have_value("a loose staple")

    card.get_by_role("button", name="Fix").click()
    card.get_by_role("button", name="Record it and withdraw the release").click()
    expect(page.locator("#unsafe")).to_have_attribute("data-count", "1")
    assert Observation.objects.count() == seen
    site.start()
    page.get_by_role("button", name="Send and refresh").click()
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=60_000)
    made = item.observations.last()
    assert (made.outcome, made.note) == ("fix", "a loose staple")
    assert not CoverRelease.objects.filter(area=area, withdrawn_at=None).exists()


def test_good_is_kept_at_the_first_tap(site, phone, shop) -> None:  # noqa: F811
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(area)
    seen = Observation.objects.count()
    open_walk(phone, site.address, shop.member, job)
    item = area.items.filter(verdict="verify", stage=Item.Stage.ROUGH_IN).first()
    open_anywhere(phone.page, item.id).get_by_role("button", name="OK", exact=True).click()
    until = time.monotonic() + 60
    while Observation.objects.count() == seen:
        assert time.monotonic() < until, "the tick does not come in"
        time.sleep(0.05)


def test_the_card_says_what_was_withdrawn_and_takes_a_slip_back(site, phone, shop) -> None:  # noqa: F811
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(area)
    open_walk(phone, site.address, shop.member, job)
    page = phone.page
    item = area.items.filter(verdict="verify", stage=Item.Stage.ROUGH_IN).first()
    title = in_english(item.finding["title"])
    card = open_anywhere(page, item.id)
    card.get_by_role("button", name="Fix").click()
    card.get_by_role("button", name="Record it and withdraw the release").click()
    expect(card.get_by_text("The cover release of East was withdrawn.")).to_be_visible(
        timeout=60_000
    )
    expect(page.locator("#told")).to_have_text(f"Fix: {title}. Sent and saved.")
    card.get_by_role("button", name="Undo: recorded by mistake").click()
    expect(
        card.get_by_text("East stays on hold until the office releases it again.")
    ).to_be_visible(timeout=60_000)
    expect(page.locator("#told")).to_have_text(f"Undone: {title}.")
    expect(card.get_by_role("button", name="Undo: recorded by mistake")).to_have_count(0)
    assert [seen.outcome for seen in item.observations.all()][-2:] == ["fix", "ok"]
