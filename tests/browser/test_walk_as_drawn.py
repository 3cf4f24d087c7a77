"""What is as drawn in a room is confirmed at one tap, and by exception, with signal or without."""

import pytest
from playwright.sync_api import Locator, Page, expect, sync_playwright

from config.messages.kept import in_english
from inspections.models import Item, Observation
from tests.browser.phones import Phone
from tests.browser.test_walk import WRITTEN, open_walk, sign_in
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
MARK = "element => { element.marked = true; }"
MARKED = "element => element.marked === true"


@pytest.fixture
def phones(monkeypatch, tmp_path):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = [Phone(driver, tmp_path / name) for name in ("member", "lead")]
        yield made
        for phone in made:
            phone.kill()


@pytest.fixture
def walk(phones, live_server, shop, house_bytes):
    """A walk that is open in a room with much that is OK on plan."""
    job = shop.roughed_in(house_bytes)
    phones[0].start()
    enter(phones[0], live_server.url, shop.member, job)
    return phones[0], live_server.url, job


def enter(phone: Phone, address: str, person, job) -> None:
    """Open the walk, in the first room."""
    open_walk(phone, address, person, job)
    phone.page.get_by_label("Room", exact=True).select_option(index=0)
    expect(list_of(phone.page)).to_be_visible()


def list_of(page: Page) -> Locator:
    return page.locator(".as-drawn")


def scroll(page: Page) -> None:
    """Read the list down to its end, as a thumb does."""
    bottom = "() => scrollY + innerHeight >= document.documentElement.scrollHeight - 2"
    page.evaluate("scrollTo(0, 0)")
    while not page.evaluate(bottom):
        page.evaluate("scrollBy(0, 300)")
        page.wait_for_timeout(60)


def all_button(page: Page) -> Locator:
    return list_of(page).get_by_role("button", name="All as drawn")


def drawn_of(job) -> list[Item]:
    """What is as drawn in the first room of the walk, in the order it is shown."""
    rough = job.items.filter(workmanship=True, verdict="ok", stage="rough-in")
    first = sure(job.items.filter(stage="rough-in", current=True).first()).finding["room"]
    return list(rough.filter(finding__room=first))


def assert_sent(page: Page) -> None:
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=60_000)


def confirm_all(page: Page) -> None:
    """Tap All as drawn, and wait until the phone says that it keeps it."""
    all_button(page).click()
    expect(page.locator("#told")).to_contain_text("As drawn: ")


def waiting(page: Page, count: int) -> None:
    expect(page.locator("#unsafe")).to_have_attribute("data-count", str(count))


def opened(page: Page, item: Item) -> Locator:
    """The line of an item, in the list of its rule that is open."""
    head = list_of(page).locator(
        "details", has=page.locator("summary b", has_text=item_title(item))
    )
    if head.get_attribute("open") is None:
        head.locator("summary").click()
    return head.locator("ul > li", has_text=f"{item.subject} ").first


def item_title(item: Item) -> str:
    return in_english(item.finding["title"])


def test_a_room_is_one_card_after_all_others_and_one_tap(walk, shop) -> None:
    phone, _, job = walk
    page, drawn = phone.page, drawn_of(job)
    cards = page.locator("#items > article")
    expect(cards.last).to_have_class("card as-drawn")
    expect(list_of(page)).to_have_count(1)
    for item in drawn:
        expect(page.locator(f"#item-{item.id}")).to_have_count(0)
    options = page.get_by_label("Room", exact=True).locator("option").first
    expect(options).to_contain_text(f"({cards.count()})")
    assert page.evaluate("document.documentElement.scrollHeight > 2 * innerHeight")
    expect(all_button(page)).to_be_disabled()
    expect(list_of(page).get_by_text("Scroll through the list first")).to_have_count(1)
    scroll(page)
    expect(all_button(page)).to_have_text(f"All as drawn ({len(drawn)})")
    confirm_all(page)
    assert_sent(page)
    made = shop.own(Observation)
    assert {seen.item_id for seen in made} == {item.id for item in drawn}
    assert made.count() == len(drawn)
    expect(all_button(page)).to_be_hidden()


def test_what_is_taken_out_is_answered_by_itself_and_not_ticked(walk, shop) -> None:
    phone, _, job = walk
    page, drawn = phone.page, drawn_of(job)
    moved, back, *_ = [item for item in drawn if item.rule == "box-fill"]
    scroll(page)
    for item in (moved, back):
        line = opened(page, item)
        line.evaluate(MARK)
        line.get_by_role("button", name="Not as drawn").click()
        expect(page.locator(f"#item-{item.id} h3")).to_be_focused()
    page.reload()
    expect(page.locator("body")).to_have_attribute("data-ready", "yes", timeout=30_000)
    expect(page.locator(f"#item-{moved.id}")).to_be_visible()
    again = opened(page, back).get_by_role("button", name="As drawn after all")
    again.click()
    expect(page.locator(f"#item-{back.id}")).to_have_count(0)
    card = page.locator(f"#item-{moved.id}")
    card.get_by_placeholder("note").fill("4 in. to the left")
    card.get_by_role("button", name="Fix").click()
    scroll(page)
    expect(all_button(page)).to_have_text(f"All as drawn ({len(drawn) - 1})")
    confirm_all(page)
    assert_sent(page)
    seen = {each.item_id: (each.outcome, each.note) for each in shop.own(Observation)}
    assert seen.pop(moved.id) == ("fix", "4 in. to the left")
    assert seen == {item.id: ("ok", "") for item in drawn if item != moved}


def test_without_signal_the_tick_of_a_room_can_be_taken_back_and_outlives_a_kill(
    walk, shop
) -> None:
    phone, url, job = walk
    page, drawn = phone.page, drawn_of(job)
    page.wait_for_timeout(WRITTEN)
    page.context.set_offline(True)
    scroll(page)
    all_button(page).click()
    waiting(page, len(drawn))
    list_of(page).get_by_role("button", name="Undo: not sent yet").click()
    waiting(page, 0)
    expect(page.locator("#told")).to_have_text(f"Not sent and taken back: {len(drawn)}.")
    all_button(page).click()
    waiting(page, len(drawn))
    line = opened(page, drawn[0])
    line.get_by_role("button", name="Not as drawn").click()
    waiting(page, len(drawn) - 1)
    assert not shop.own(Observation).exists()
    phone.kill()
    phone.start()
    page = phone.page
    sign_in(phone, url, shop.member)
    page.goto(f"{url}/walk/{job.id}/")
    assert_sent(page)
    seen = shop.own(Observation)
    assert {each.item_id for each in seen} == {item.id for item in drawn[1:]}
    assert seen.count() == len(drawn) - 1
    expect(page.locator(f"#item-{drawn[0].id}")).to_be_visible()


def test_two_phones_in_one_room_confirm_each_item_once_and_a_fix_is_not_passed(
    walk, phones, shop
) -> None:
    phone, url, job = walk
    page, drawn = phone.page, drawn_of(job)
    phones[1].start()
    enter(phones[1], url, shop.lead, job)
    other = phones[1].page
    scroll(page)
    scroll(other)
    page.context.set_offline(True)
    all_button(page).click()
    waiting(page, len(drawn))
    opened(other, drawn[0]).get_by_role("button", name="Not as drawn").click()
    other.locator(f"#item-{drawn[0].id}").get_by_role("button", name="Fix").click()
    assert_sent(other)
    page.context.set_offline(False)
    page.get_by_role("button", name="Send and refresh").click()
    assert_sent(page)
    wrong = page.locator(f"#item-{drawn[0].id}")
    expect(wrong.get_by_text("Disagrees").first).to_be_visible()
    other.get_by_role("button", name="Send and refresh").click()
    expect(list_of(other)).to_have_count(0)
    assert shop.own(Observation).filter(outcome="ok").count() == len(drawn)


def test_what_is_typed_elsewhere_and_the_list_stay_where_they_are(walk, shop) -> None:
    phone, _, job = walk
    page, drawn = phone.page, drawn_of(job)
    scroll(page)
    line = opened(page, drawn[0])
    line.evaluate(MARK)
    card = page.locator("#items article", has=page.get_by_label("Note on")).first
    card.get_by_label("Note on").fill("behind the duct")
    list_of(page).evaluate(MARK)
    line.scroll_into_view_if_needed()
    stood = sure(line.bounding_box())["y"]
    with page.expect_response("**/data"):
        page.evaluate("window.dispatchEvent(new Event('online'))")
        all_button(page).evaluate("button => button.click()")
    expect(page.locator("#told")).to_contain_text("As drawn: ")
    assert_sent(page)
    assert list_of(page).evaluate(MARKED)
    assert line.evaluate(MARKED)
    assert sure(line.bounding_box())["y"] == pytest.approx(stood, abs=2)
    expect(card.get_by_label("Note on")).to_have_value("behind the duct")
    expect(line.get_by_text("OK on site")).to_be_visible()


@pytest.mark.parametrize("width", [390, 1280])
def test_targets_are_for_gloves_and_nothing_goes_over_the_edge(walk, width) -> None:
    page = walk[0].page
    page.set_viewport_size({"width": width, "height": 844})
    scroll(page)
    for fold in list_of(page).locator("details > summary").all():
        fold.click()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    targets = "() => [...document.querySelectorAll('.as-drawn button, .as-drawn summary')]"
    heights = page.evaluate(
        f"({targets})().filter((e) => e.offsetParent).map((e) => e.offsetHeight)"
    )
    assert min(heights) >= 48
