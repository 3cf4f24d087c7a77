"""What was typed on a walk stays, whatever happens around it, until it is sent."""

import pytest
from playwright.sync_api import Locator, Page, expect, sync_playwright

from inspections.checker.finding import Verdict
from inspections.models import Item, Observation
from tests.browser.phones import Phone
from tests.browser.test_walk import open_walk, picture, sign_in
from tests.browser.walking import open_all, opened
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
NOTE = "behind the duct, ask Rowan"
MARK = "element => { element.marked = true; }"
MARKED = "element => element.marked === true"
A_BOX = """async () => {
  const { keptJob } = await import("/static/js/walk/store.js");
  const { rooms } = await keptJob(document.body.dataset.person, document.body.dataset.job);
  const number = rooms.findIndex((room) => room.items.length > 1 && room.items.some((i) => i.box));
  const item = rooms[number].items.find((each) => each.box);
  return [number, item.id, rooms[number].items.find((each) => each.id !== item.id).id];
}"""
"""A room, an item of it about a box on a wall, and another."""


@pytest.fixture
def phone(monkeypatch, tmp_path):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = Phone(driver, tmp_path / "phone")
        made.start()
        yield made
        made.kill()


@pytest.fixture
def walk(phone, live_server, shop, house_bytes):
    """A walk that is open in a room with several looks."""
    job = shop.roughed_in(house_bytes)
    open_walk(phone, live_server.url, shop.member, job)
    room(phone.page).select_option(index=1)
    expect(phone.page.locator(".room-card").first).to_be_visible()
    open_all(phone.page)
    expect(looks(phone.page).nth(2)).to_be_visible()
    return phone, live_server.url, job


def room(page: Page) -> Locator:
    return page.get_by_label("Room", exact=True)


def looks(page: Page) -> Locator:
    """Cards that a look can pass."""
    good = page.get_by_role("button", name="OK", exact=True, disabled=False)
    return page.locator("#items article.item").filter(has=good)


def taped(page: Page, number: int) -> Locator:
    """The same card for good, of those that a look can pass and a tape is put to."""
    found = looks(page).filter(has=page.locator(".tape:not([hidden])"))
    return page.locator(f"#{found.nth(number).get_attribute('id')}")


def note(card: Locator) -> Locator:
    return card.get_by_label("Note on")


def tape(card: Locator) -> Locator:
    return card.get_by_label(", measured")


def card_of(page: Page, number: int) -> Locator:
    """The same card for good, by its id."""
    return page.locator(f"#{looks(page).nth(number).get_attribute('id')}")


def assert_sent(page: Page) -> None:
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=30_000)


def test_a_measure_typed_before_the_photograph_goes_with_the_tick(shop, walk) -> None:
    page = walk[0].page
    card = taped(page, 0)
    tape(card).fill("2.5 mm")
    note(card).fill(NOTE)
    card.evaluate(MARK)
    card.get_by_label("Photo of").set_input_files(picture(1))
    expect(card.get_by_text("Photo,")).to_have_count(1)
    assert_sent(page)
    expect(tape(card)).to_have_value("2.5 mm")
    expect(note(card)).to_have_value(NOTE)
    assert card.evaluate(MARKED)
    card.get_by_role("button", name="OK", exact=True).click()
    expect(tape(card)).to_have_value("")
    expect(note(card)).to_have_value("")
    assert_sent(page)
    made = shop.own(Observation).get()
    assert (made.measured_mm, made.measured_typed, made.note) == (2.5, "2.5 mm", NOTE)


def test_what_is_typed_in_a_card_stays_while_another_is_ticked_without_signal_and_with(
    walk,
) -> None:
    phone = walk[0]
    page = phone.page
    ticked, typed = card_of(page, 0), card_of(page, 1)
    typed.get_by_text("Working").click()
    phone.page.context.set_offline(True)
    note(typed).fill(NOTE)
    typed.evaluate(MARK)
    ticked.evaluate(MARK)
    ticked.get_by_role("button", name="OK", exact=True).click()
    expect(page.get_by_text("1 not sent yet")).to_be_visible()
    expect(note(typed)).to_have_value(NOTE)
    note(typed).focus()
    note(typed).press("ArrowLeft")
    stood = sure(typed.bounding_box())["y"]
    with page.expect_response("**/data"):
        phone.page.context.set_offline(False)
    assert_sent(page)
    expect(ticked.get_by_text("Checked: OK")).to_be_visible()
    expect(note(typed)).to_be_focused()
    page.keyboard.type("?")
    expect(note(typed)).to_have_value(f"{NOTE[:-1]}?{NOTE[-1:]}")
    assert typed.evaluate(MARKED)
    assert ticked.evaluate(MARKED), "what passed moved away under a finger"
    assert typed.locator("details[open]").count() == 1
    assert sure(typed.bounding_box())["y"] == pytest.approx(stood, abs=2)


@pytest.mark.parametrize("killed", [False, True])
def test_what_was_typed_is_there_after_the_page_is_gone(walk, shop, killed) -> None:
    phone, address, job = walk
    card = taped(phone.page, 2)
    mark = card.get_attribute("id")
    tape(card).fill("48")
    note(card).fill(NOTE)
    card.get_by_text("Working").click()
    card.scroll_into_view_if_needed()
    phone.page.wait_for_timeout(600)
    stood = sure(card.bounding_box())["y"]
    where = room(phone.page).input_value()
    if killed:
        phone.kill()
        phone.start()
        sign_in(phone, address, shop.member)
        phone.page.goto(f"{address}/walk/{job.id}/")
    else:
        phone.page.reload()
    card = phone.page.locator(f"#{mark}")
    expect(tape(card)).to_have_value("48")
    expect(note(card)).to_have_value(NOTE)
    expect(room(phone.page)).to_have_value(where)
    expect(card.locator("details[open]")).to_have_count(1)
    assert sure(card.bounding_box())["y"] == pytest.approx(stood, abs=60)


def test_two_tabs_of_a_walk_keep_one_another(shop, walk) -> None:
    phone, address, job = walk
    first, second = phone.page, phone.page.context.new_page()
    second.goto(f"{address}/walk/{job.id}/")
    expect(second.locator("body")).to_have_attribute("data-ready", "yes", timeout=30_000)
    ours, theirs = taped(first, 1), taped(second, 1)
    assert ours.get_attribute("id") == theirs.get_attribute("id")
    note(ours).fill(NOTE)
    expect(note(theirs)).to_have_value(NOTE)
    tape(theirs).fill('5/8"')
    taped(second, 0).get_by_role("button", name="OK", exact=True).click()
    expect(taped(first, 0).get_by_text("OK,")).not_to_have_count(0)
    expect(note(ours)).to_have_value(NOTE)
    expect(tape(ours)).to_have_value('5/8"')
    ours.get_by_role("button", name="Fix").click()
    expect(note(theirs)).to_have_value("")
    assert_sent(second)
    assert shop.own(Observation).get(outcome="fix").measured_mm == 15.875
    first.bring_to_front()
    room(second).select_option(index=0)
    expect(room(first)).not_to_have_value(room(second).input_value())


def test_what_the_site_refuses_is_given_back_to_be_put_right(walk) -> None:
    page = walk[0].page
    card = taped(page, 0)

    def refuse(route) -> None:
        (sent,) = route.request.post_data_json["ticks"]
        taken = [{"id": sent["id"], "state": "refused", "says": "10 mm is less than 150 mm."}]
        route.fulfill(json={"taken": taken})

    page.route("**/sync", refuse)
    tape(card).fill("10")
    note(card).fill(NOTE)
    card.get_by_role("button", name="Fix").click()
    expect(card.get_by_text("10 mm is less than 150 mm.")).to_be_visible()
    expect(tape(card)).to_have_value("10")
    expect(note(card)).to_have_value(NOTE)
    card.get_by_role("button", name="Remove this message").click()
    expect(card.get_by_text("10 mm is less than 150 mm.")).to_have_count(0)
    expect(note(card)).to_have_value(NOTE)


def test_where_a_box_stands_is_kept_as_it_is_typed(walk) -> None:
    page = walk[0].page
    number, item, other = page.evaluate(A_BOX)
    room(page).select_option(index=number)
    expect(page.locator(f'[data-item="{item}"]')).to_have_count(1)
    card = opened(page, item)
    card.get_by_text("The box is in another place").click()
    card.get_by_label("from the left end").fill("640")
    opened(page, other).get_by_role("button", name="Fix").click()
    assert_sent(page)
    expect(card.get_by_label("from the left end")).to_have_value("640")
    page.reload()
    expect(card.get_by_label("from the left end")).to_have_value("640")
    card.get_by_role("button", name="Send the new place to the office").click()
    expect(card.get_by_label("from the left end")).to_have_value("")
    assert_sent(page)


def test_facts_that_change_under_a_card_say_so_and_keep_what_is_typed(walk) -> None:
    page = walk[0].page
    card = card_of(page, 0)
    note(card).fill(NOTE)
    card.evaluate(MARK)
    item = sure(card.get_attribute("id")).removeprefix("item-")
    assert Item.objects.get(id=item).verdict == Verdict.VERIFY
    Item.objects.filter(id=item).update(fingerprint="f" * 16)
    card_of(page, 1).get_by_role("button", name="OK", exact=True).click()
    expect(card.get_by_text("The facts have changed. Read them again.")).to_be_visible()
    expect(note(card)).to_have_value(NOTE)
    assert card.evaluate(MARKED)
