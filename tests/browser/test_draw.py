"""A house drawn from a blank sheet: rooms, a counter, proposals, a checklist; a draft kept."""

from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect, sync_playwright
from pypdf import PdfReader

from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.selectors import house_of, latest_revision
from tests.browser.test_tour import FLAGS, sign_in
from tests.conftest import CHROMIUM
from tests.sure import sure

SCREENS = Path(__file__).resolve().parents[2] / "var" / "screenshots"
MOST_ACTIONS = 90
pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]


class Hand:
    """A person at the drawing board, whose every press, drag, choice and entry is counted."""

    def __init__(self, page: Page) -> None:
        self.page, self.actions = page, 0

    def looked(self) -> None:
        """Wait until the site has answered what was drawn last."""
        page = self.page
        page.wait_for_timeout(200)
        page.locator("body[data-looked]").wait_for()

    def xy(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the sheet, in mm, is on the screen."""
        got = self.page.evaluate(
            """([x, y]) => {
              const at = document.getElementById('board').getScreenCTM();
              const p = new DOMPoint(x, y).matrixTransform(at);
              return [p.x, p.y];
            }""",
            [x, y],
        )
        return got[0], got[1]

    def tool(self, name: str) -> None:
        self.actions += 1
        self.page.locator(f"[data-tool={name}]").click()

    def press(self, x: float, y: float) -> None:
        self.actions += 1
        self.page.mouse.click(*self.xy(x, y))

    def drag(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        self.actions += 1
        self.page.mouse.move(*self.xy(*a))
        self.page.mouse.down()
        self.page.mouse.move(*self.xy(*b), steps=4)
        self.page.mouse.up()

    def choose(self, label: str, value: str) -> None:
        self.actions += 1
        self.page.get_by_label(label, exact=True).select_option(value)

    def enter(self, label: str, value: str) -> None:
        self.actions += 1
        field = self.page.get_by_label(label, exact=True)
        field.fill(value)
        field.blur()

    def click(self, name: str) -> None:
        self.actions += 1
        self.page.get_by_role("button", name=name, exact=True).click()


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport={"width": 1500, "height": 1000})
        page.set_default_timeout(15_000)
        yield page
        browser.close()


def at_board(page: Page, address: str, shop, job) -> Hand:
    sign_in(page, address, shop.office)
    page.goto(f"{address}/jobs/{job.id}/draw/")
    hand = Hand(page)
    hand.looked()
    return hand


def three_rooms(hand: Hand) -> None:
    """A living room, a kitchen with a counter, a bedroom: drawn, doored, windowed."""
    hand.choose("rulebook", "cec-2021")
    hand.tool("room")
    hand.drag((0, 0), (5200, 4000))
    hand.enter("name", "Living room")
    hand.choose("Kind of room to draw", "kitchen")
    hand.drag((5200, 0), (9000, 4000))
    hand.choose("Kind of room to draw", "bedroom")
    hand.drag((0, 4000), (4000, 7400))
    hand.tool("door-left")
    hand.press(1000, 0)
    hand.press(600, 4000 + 20)
    hand.tool("opening")
    hand.press(5200 - 20, 3000)
    hand.press(5200 + 20, 3000)
    hand.tool("door-out")
    hand.press(600, 4000 - 20)
    hand.tool("window")
    hand.press(3200, 0)
    hand.press(2000, 7400)
    hand.tool("counter")
    hand.press(7000, 0)
    hand.tool("sink")
    hand.press(6400, 0)
    hand.tool("range")
    hand.press(8000, 0)
    hand.tool("panel")
    hand.press(8600, 3600)
    hand.click("Mark outside walls")


def test_from_a_blank_sheet_to_a_checklist_in_under_90_actions(page, live_server, shop) -> None:
    job = shop.job(name="Ferrow Lot 2")
    hand = at_board(page, live_server.url, shop, job)
    three_rooms(hand)
    hand.looked()
    expect(page.locator("#counts")).to_contain_text("not to code")
    SCREENS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SCREENS / "draw-three-rooms.png")
    hand.click("Propose what is missing")
    expect(page.locator("#propose")).to_be_visible()
    page.screenshot(path=SCREENS / "draw-proposals.png")
    hand.click("Add selected items")
    page.wait_for_timeout(1500)
    print(page.locator("#findings").inner_text())
    page.screenshot(path=SCREENS / "draw-x.png")
    expect(page.locator("#counts")).to_contain_text(", 0 not to code")
    page.locator("#show-cables").check()
    page.screenshot(path=SCREENS / "draw-finished.png")
    hand.enter("Reason for the change", "first plan")
    hand.click("Review changes")
    hand.click("Record this revision")
    expect(page.get_by_text("Recorded as revision 1.")).to_be_visible()
    assert hand.actions < MOST_ACTIONS, hand.actions
    revision = sure(latest_revision(job))
    assert revision.rulebook == "cec-2021"
    house, book = house_of(revision)
    assert [room.kind for room in house.rooms][:3] == ["living", "kitchen", "bedroom"]
    assert house.rooms[0].name == "Living room"
    assert [f.key for f in check(house, book) if f.verdict is Verdict.SHORT] == []
    got = page.request.get(f"{live_server.url}/jobs/{job.id}/checklist.pdf")
    text = "".join(sheet.extract_text() for sheet in PdfReader(BytesIO(got.body())).pages)
    assert "Living room" in text


def test_typed_lengths_undo_and_a_draft_that_outlives_the_tab(page, live_server, shop) -> None:
    job = shop.job(name="Ferrow Lot 3")
    hand = at_board(page, live_server.url, shop, job)
    hand.tool("room")
    hand.drag((0, 0), (5000, 4000))
    page.get_by_role("button", name="wall w1").click()
    hand.enter("length, mm", "12' 6 1/2\"")
    length = "JSON.parse(localStorage[Object.keys(localStorage)[0]]).house.rooms[0].walls"
    assert [w["length_mm"] for w in page.evaluate(length)] == [3822.7, 4000, 3822.7, 4000]
    hand.enter("length, mm", "a yard")
    assert page.evaluate(length)[0]["length_mm"] == 3822.7
    page.keyboard.press("Escape")
    hand.click("Undo")
    assert page.evaluate(length)[0]["length_mm"] == 5000
    hand.click("Redo")
    page.reload()
    expect(page.locator("#said")).to_have_text("Your earlier draft is on the board.")
    assert page.evaluate(length)[0]["length_mm"] == 3822.7


def test_a_room_is_drawn_and_moved_and_taken_away_by_keys_alone(page, live_server, shop) -> None:
    job = shop.job(name="Ferrow Lot 4")
    hand = at_board(page, live_server.url, shop, job)
    page.locator("[data-tool=room]").focus()
    page.keyboard.press("Enter")
    page.locator("#board").focus()
    page.keyboard.press("Enter")
    for _ in range(8):
        page.keyboard.press("Shift+ArrowRight")
        page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("#chosen")).to_contain_text("Living")
    page.keyboard.press("Delete")
    expect(page.locator("#chosen")).to_have_text("Nothing selected")
    page.keyboard.press("Control+z")
    hand.looked()
    expect(page.locator("#drawn [data-room]")).to_have_count(1)
