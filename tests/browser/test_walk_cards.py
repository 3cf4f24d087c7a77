"""A room is three cards at most, each with one OK for what eyes settle, with signal or without."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect, sync_playwright

from inspections.models import Observation
from tests.browser.phones import Phone
from tests.browser.test_walk import WRITTEN, open_walk, picture, sign_in
from tests.browser.walking import card_ok, open_all, opened, read_down, room_list
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
MARK = "element => { element.marked = true; }"
MARKED = "element => element.marked === true"
SWEEP = """() => {
  const finger = { identifier: 1, target: document.body, clientY: 9 };
  const at = (clientX) => [new Touch({ ...finger, clientX })];
  const send = (name, given) =>
    document.body.dispatchEvent(new TouchEvent(name, { bubbles: true, ...given }));
  send("touchstart", { touches: at(300), changedTouches: at(300) });
  send("touchend", { touches: [], changedTouches: at(100) });
}"""
"""A finger from the right to the left."""
ALONE = ("bonding-made-up", "panel-rough-in")


@pytest.fixture
def phones(monkeypatch, tmp_path):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = [Phone(driver, tmp_path / name) for name in ("member", "lead")]
        yield made
        for phone in made:
            phone.kill()


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["short"])


@pytest.fixture
def walk(phones, live_server, shop, job):
    """A walk that is open in its first room, of two with a sample each, and a panel."""
    phones[0].start()
    open_walk(phones[0], live_server.url, shop.member, job)
    return phones[0]


def waiting(page: Page, count: int) -> None:
    expect(page.locator("#unsafe")).to_have_attribute("data-count", str(count))


def assert_sent(page: Page) -> None:
    page.get_by_role("button", name="Send and refresh").click()
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=60_000)


def of_card(job, card: str, room: str = "east"):
    """What the OK of a card of a room is of."""
    rough = job.items.filter(stage="rough-in", finding__room=room, workmanship=True)
    topics = {"boxes": ["boxes"], "cables": ["cables", "communications"], "own": ["alarms"]}
    by_eye = rough.filter(verdict__in=["ok", "verify"], finding__topic__in=topics[card])
    return {item.id for item in by_eye}


def give_close_ups(page: Page) -> int:
    """A close-up of each sampled box of the room."""
    boxes = page.locator(".sample")
    for box in boxes.all():
        box.get_by_label("close-up").set_input_files(picture(3))
        expect(box.locator(".check-state")).to_have_text("Checked")
    return boxes.count()


def test_a_room_is_three_cards_with_what_is_not_to_code_before_them(walk, job) -> None:
    page = walk.page
    cards = page.locator("#items > .room-card")
    expect(cards).to_have_count(3)
    kinds = cards.evaluate_all("all => all.map((card) => card.dataset.card)")
    assert kinds == ["boxes", "cables", "own"]
    first = page.locator("#items > article").first
    expect(first.locator("summary")).to_contain_text("Not to code")
    assert job.items.filter(verdict="not_to_code", finding__room="east").count() == 1
    expect(page.locator(".first-line")).to_have_count(1)
    expect(room_list(page).locator("option")).to_have_count(3)
    lines = page.locator(".room-card[data-card=boxes] > .checks > li")
    expect(lines).to_have_count(2)
    expect(lines.last).to_contain_text("All as drawn (")
    expect(page.locator("#progress")).to_have_text("1 of 3; checked: 0")


def test_one_ok_is_of_what_eyes_settle_and_says_how_it_was_given(walk, shop, job) -> None:
    page = walk.page
    page.set_viewport_size({"width": 390, "height": 500})
    expect(card_ok(page, "cables")).to_be_disabled()
    expect(page.get_by_text("Scroll through the list first").first).to_be_attached()
    read_down(page)
    cables, boxes = of_card(job, "cables"), of_card(job, "boxes")
    expect(card_ok(page, "boxes")).to_be_disabled()
    expect(page.locator("[data-card=boxes] > [role=status]")).to_contain_text("first: close-up")
    card_ok(page, "cables").click()
    waiting(page, len(cables))
    expect(card_ok(page, "cables")).to_be_hidden()
    shots = give_close_ups(page)
    assert shots == 2
    page.wait_for_timeout(800)
    card_ok(page, "boxes").click()
    waiting(page, len(cables) + len(boxes) + shots)
    assert_sent(page)
    made = shop.own(Observation)
    assert {seen.item_id for seen in made} == cables | boxes
    assert {(seen.given, seen.outcome) for seen in made} == {("room", "ok")}
    assert not made.filter(item__rule__in=ALONE).exists()
    bonding = job.items.get(rule="bonding-made-up", subject="room:east")
    page.locator("[data-card=boxes]").get_by_role("button", name="OK: Bonds").click()
    assert_sent(page)
    assert shop.own(Observation).get(item=bonding).given == "each"


def test_what_is_answered_by_itself_is_not_in_the_ok(walk, shop, job) -> None:
    page = walk.page
    bends = job.items.get(rule="cable-bends", subject="room:east")
    staples = job.items.get(rule="staples", subject="room:east")
    opened(page, bends.id).get_by_label("Note on").fill("behind the duct")
    opened(page, staples.id).get_by_role("button", name="Fix").click()
    waiting(page, 1)
    read_down(page)
    left = of_card(job, "cables") - {bends.id, staples.id}
    expect(card_ok(page, "cables")).to_have_text(f"OK: {len(left)} checks")
    card_ok(page, "cables").click()
    waiting(page, 1 + len(left))
    seen = opened(page, bends.id)
    expect(seen.get_by_label("Note on")).to_have_value("behind the duct")
    assert_sent(page)
    made = {each.item_id: each.outcome for each in shop.own(Observation)}
    assert made == {staples.id: "fix"} | dict.fromkeys(left, "ok")


def test_without_signal_an_ok_is_taken_back_or_outlives_a_kill(
    walk, live_server, shop, job
) -> None:
    page, cables = walk.page, of_card(job, "cables")
    page.wait_for_timeout(WRITTEN)
    page.context.set_offline(True)
    read_down(page)
    card_ok(page, "cables").click()
    waiting(page, len(cables))
    page.locator("#undo").click()
    waiting(page, 0)
    expect(page.locator("#told")).to_have_text(f"Not sent and taken back: {len(cables)}.")
    expect(page.locator("#undo-bar")).to_be_hidden()
    page.wait_for_timeout(800)
    card_ok(page, "cables").click()
    waiting(page, len(cables))
    item = next(iter(cables))
    opened(page, item).get_by_role("button", name="Fix").click()
    expect(page.locator(f"#item-{item}").get_by_text("Fix,")).to_have_count(1)
    waiting(page, len(cables))
    assert not shop.own(Observation).exists()
    walk.kill()
    walk.start()
    page = walk.page
    sign_in(walk, live_server.url, shop.member)
    page.goto(f"{live_server.url}/walk/{job.id}/")
    assert_sent(page)
    seen = {each.item_id: each.outcome for each in shop.own(Observation)}
    assert seen == dict.fromkeys(cables, "ok") | {item: "fix"}
    assert shop.own(Observation).count() == len(cables)


def test_two_phones_in_one_room_give_each_ok_once_and_a_fix_is_not_passed(
    walk, phones, live_server, shop, job
) -> None:
    page, cables = walk.page, of_card(job, "cables")
    phones[1].start()
    open_walk(phones[1], live_server.url, shop.lead, job)
    other = phones[1].page
    read_down(page)
    page.context.set_offline(True)
    card_ok(page, "cables").click()
    waiting(page, len(cables))
    item = job.items.get(rule="staples", subject="room:east").id
    opened(other, item).get_by_role("button", name="Fix").click()
    assert_sent(other)
    page.context.set_offline(False)
    assert_sent(page)
    expect(opened(page, item).get_by_text("Disagrees").first).to_be_visible()
    assert shop.own(Observation).filter(outcome="ok").count() == len(cables)


def test_a_required_photograph_is_taken_before_the_ok(walk, shop, job) -> None:
    shop.shop.photo_rules = ["staples"]
    shop.shop.save()
    page = walk.page
    page.get_by_role("button", name="Send and refresh").click()
    camera = page.locator("[data-card=cables] > .camera")
    expect(camera).to_contain_text("(1 left)")
    read_down(page)
    expect(card_ok(page, "cables")).to_be_disabled()
    camera.locator("input").set_input_files(picture(5))
    expect(camera).to_be_hidden()
    expect(page.locator("#quota")).to_contain_text("Photos on this phone: 1.")
    card_ok(page, "cables").click()
    waiting(page, len(of_card(job, "cables")) + 1)


def test_the_last_ok_leads_on_and_rooms_turn_by_key_and_sweep(walk, job) -> None:
    page = walk.page
    page.context.set_offline(True)
    read_down(page)
    name = page.locator("#room-name")
    expect(name).to_contain_text("East")
    page.keyboard.press("ArrowRight")
    expect(name).to_contain_text("West")
    page.keyboard.press("ArrowLeft")
    expect(name).to_contain_text("East")
    opened(page, job.items.get(rule="staples", subject="room:east").id)
    page.get_by_label("Note on").first.focus()
    page.keyboard.press("ArrowRight")
    expect(name).to_contain_text("East")
    page.evaluate(SWEEP)
    expect(name).to_contain_text("West")
    read_down(page)
    give_close_ups(page)
    for button in (page.get_by_role("button", name="OK: Bonds"), card_ok(page, "boxes")):
        button.click()
        page.wait_for_timeout(800)
    expect(name).to_contain_text("West")
    card_ok(page, "cables").click()
    expect(name).to_contain_text("Panel")
    expect(page.locator("#undo-words")).to_contain_text("West")
    page.locator("#undo").click()
    expect(name).to_contain_text("West")
    read_down(page)
    page.wait_for_timeout(800)
    card_ok(page, "cables").click()
    expect(name).to_contain_text("Panel")
    page.reload()
    expect(name).to_contain_text("Panel")


def test_what_is_typed_and_the_lines_stay_where_they_are(walk) -> None:
    page = walk.page
    read_down(page)
    line = page.locator("[data-card=cables] > .checks > li").first
    line.locator("summary").click()
    line.get_by_label("Note on").fill("behind the duct")
    line.evaluate(MARK)
    card_ok(page, "own").click()
    expect(page.locator("#told")).to_contain_text("OK: 1 check")
    line.scroll_into_view_if_needed()
    stood = sure(line.bounding_box())["y"]
    with page.expect_response("**/data"):
        page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=60_000)
    assert line.evaluate(MARKED)
    expect(line.get_by_label("Note on")).to_have_value("behind the duct")
    assert sure(line.bounding_box())["y"] == pytest.approx(stood, abs=8)


@pytest.mark.parametrize("width", [390, 1280])
def test_targets_are_for_gloves_and_nothing_goes_over_the_edge(walk, width) -> None:
    page = walk.page
    page.set_viewport_size({"width": width, "height": 844})
    open_all(page)
    expect(page.locator("#items article.item").first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    targets = "() => [...document.querySelectorAll('#items button, #items summary, #undo')]"
    heights = page.evaluate(
        f"({targets})().filter((e) => e.offsetParent).map((e) => e.offsetHeight)"
    )
    assert min(heights) >= 48


def test_nothing_of_a_room_is_out_of_reach_shut_or_opened(walk) -> None:
    page, axe = walk.page, Axe()
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        assert axe.run(page).response["violations"] == []
    open_all(page)
    expect(page.locator("#items article.item").first).to_be_visible()
    read_down(page)
    card_ok(page, "cables").click()
    expect(page.locator("#undo-bar")).to_be_visible()
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        found = axe.run(page).response["violations"]
        assert [(each["id"], [node["target"] for node in each["nodes"]]) for each in found] == []
