"""A lead's walk of the planted house, 118 boxes with a dozen defects: how many taps it takes."""

import pytest
from playwright.sync_api import Page, expect, sync_playwright

from inspections.overview.walk import GivenBy, walk_of
from tests.browser.phones import Phone
from tests.browser.test_walk import open_walk, picture
from tests.browser.walking import Taps, give_samples, read_down, room_list

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
REQUIRED = ["box-support", "staples", "cable-support"]
"""What this shop wants photographed in each room."""
DOUBLE_TAP = 750
QUEUE = """async () => {
  const { entries } = await import("/static/js/walk/store.js");
  const { person, job } = document.body.dataset;
  return (await entries(person, job)).map(({ kind, item, outcome, given }) =>
    ({ kind, item, outcome: outcome ?? "", given: given ?? "each" }));
}"""


def photographs(page: Page, taps: Taps) -> None:
    """Take what the cards of the room require, one tap a shot."""
    for camera in page.locator(".room-card > .camera").all():
        while camera.is_visible():
            before = camera.inner_text()
            camera.locator("input").set_input_files(picture(taps.photographs))
            taps.photographs += 1
            page.wait_for_function(
                "([card, text]) => card.hidden || card.innerText !== text",
                arg=[camera.element_handle(), before],
            )


def check_room(phone: Phone, taps: Taps) -> None:
    """Read a room, take its photographs and its sample, and give each OK that it offers."""
    page = phone.page
    name = page.locator("#room-name").inner_text()
    taps.seen.append(name)
    taps.sweeps += read_down(page)
    photographs(page, taps)
    give_samples(phone, taps)
    offered = "#items .line-ok:visible:enabled, #items .all:visible:enabled"
    while page.locator(offered).count():
        count = int(page.locator("#unsafe").get_attribute("data-count") or 0)
        page.locator(offered).first.click()
        taps.ok += 1
        expect(page.locator("#unsafe")).not_to_have_attribute("data-count", str(count))
        page.wait_for_timeout(DOUBLE_TAP)
        if page.locator("#room-name").inner_text() != name:
            return


def test_a_house_is_walked_in_few_taps(
    request, monkeypatch, tmp_path, live_server, shop, planted_bytes
) -> None:
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    job = shop.roughed_in(planted_bytes)
    shop.shop.photo_rules = REQUIRED
    shop.shop.save()
    job.refresh_from_db()
    lines = [each for place in walk_of(job) for each in place.lines]
    with sync_playwright() as driver:
        phone = Phone(driver, tmp_path / "lead")
        request.addfinalizer(phone.kill)
        phone.start()
        open_walk(phone, live_server.url, shop.lead, job)
        page = phone.page
        page.set_viewport_size({"width": 390, "height": 844})
        page.context.set_offline(True)
        taps, rooms = Taps(), room_list(page).locator("option").count()
        while len(taps.seen) < rooms:
            had = len(taps.seen)
            check_room(phone, taps)
            assert len(set(taps.seen)) == had + 1, "a room was walked twice"
        left = room_list(page).locator("option").all_inner_texts()
        queue = page.evaluate(QUEUE)
        phone.kill()
    print(f"\n{rooms} places: {taps}")
    assert taps.ok + taps.rooms <= 55
    assert taps.photographs <= 48
    assert taps.sample <= 36
    assert not [each for each in left if "to check" in each]
    ticked = {each["item"]: each for each in queue if each["kind"] == "tick"}
    wanted = {
        str(each.line.item.id): each.check for each in lines if each.check is not GivenBy.NONE
    }
    assert ticked.keys() == wanted.keys()
    assert {each["outcome"] for each in ticked.values()} == {"ok"}
    by_room = {item for item, each in ticked.items() if each["given"] == "room"}
    for each in lines:
        if str(each.line.item.id) in by_room:
            assert each.check is GivenBy.CARD or each.line.item.verdict == "ok"
