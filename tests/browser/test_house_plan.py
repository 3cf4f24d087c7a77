"""The plan of a job's page in a real browser: its words by their boxes on the screen."""

from base64 import b64encode
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, sync_playwright

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.load import load_house
from inspections.drawing.geometry import storeys_drawn
from inspections.drawing.labels import ASCENT, DESCENT, TEXT_PX, width_of
from inspections.drawing.storey_plan import plan_of_storey
from tests.browser.test_tour import FLAGS
from tests.conftest import CHROMIUM, EXAMPLES
from tests.drawing.test_storey_plan import lines_of

pytestmark = pytest.mark.browser

STATIC = Path(__file__).resolve().parents[2] / "static"
HOUSES = ("quillet-planted.json", "gannet.json", "second/tamsel.json")
ZOOMS = (1, 1.3, 1.6, 2, 2.5, 3, 4, 5.5, 8)
SHOW_AT = """zoom => {
  const svg = document.querySelector(".house-plan");
  svg.style.width = `${innerWidth * zoom}px`;
  const scale = innerWidth * zoom / svg.viewBox.baseVal.width;
  svg.style.fontSize = `${12 / scale}px`;
  const steps = svg.dataset.scales.split(" ").map(Number);
  svg.dataset.step = steps.filter(least => least <= scale).length - 1;
}"""
BOXES = """() => [...document.querySelectorAll(":is(.names, .numbers, .counts) text")]
  .map(text => [text, text.getBoundingClientRect()])
  .filter(([text, box]) => box.width > 0)
  .map(([text, box]) => [text.textContent, box.left, box.top, box.right, box.bottom])"""
Box = tuple[str, float, float, float, float]


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser.new_page()
        browser.close()


def sheet_with(svg: str) -> str:
    """A page with our typeface and styles, and the plan as wide as the screen."""
    font = b64encode((STATIC / "fonts/IBMPlexSansCondensed-SemiBold.woff2").read_bytes()).decode()
    faces = f'@font-face {{ font-family: "Plex"; src: url("data:font/woff2;base64,{font}"); }}'
    css = (STATIC / "css/house-plan.css").read_text("utf-8")
    return f"<style>{faces} {css} body {{ margin: 0 }}</style>{svg}"


@pytest.mark.parametrize("name", HOUSES)
def test_no_words_overlap_on_a_screen_and_they_stay_as_large(page, name) -> None:
    made = load_house((EXAMPLES / name).read_bytes())
    lines = lines_of(made, check(made, load_rulebook("cec-2021")))
    for storey in storeys_drawn(made):
        page.set_content(sheet_with(plan_of_storey(made, storey.id, lines, {})))
        page.evaluate("document.fonts.load('600 12px Plex')")
        for width in (390, 1280):
            page.set_viewport_size({"width": width, "height": 844})
            for zoom in ZOOMS:
                page.evaluate(SHOW_AT, zoom)
                boxes = page.evaluate(BOXES)
                assert meeting(boxes) == [], (name, storey.id, width, zoom)
                for _, _, top, _, bottom in boxes:
                    assert bottom - top == pytest.approx((ASCENT + DESCENT) * TEXT_PX, abs=1)
            assert boxes, "near, every plan has words"


def test_no_name_is_wider_than_it_is_taken_to_be(page) -> None:
    made = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    page.set_content(sheet_with(plan_of_storey(made, "main", [], {})))
    page.evaluate("document.fonts.load('600 12px Plex')")
    page.evaluate(SHOW_AT, 8)
    names = page.evaluate(BOXES)
    assert {name for name, *_ in names} == {room.name for room in made.rooms}
    for name, left, top, right, bottom in names:
        assert right - left <= width_of(name) * TEXT_PX + 0.1
        assert bottom - top <= (ASCENT + DESCENT) * TEXT_PX + 0.1


def meeting(boxes: list[Box]) -> list[tuple[str, str]]:
    """Words whose boxes overlap by more than a hair of a pixel."""
    found = []
    for index, (one, left, top, right, bottom) in enumerate(boxes):
        for other, left2, top2, right2, bottom2 in boxes[index + 1 :]:
            across = min(right, right2) - max(left, left2)
            if across > 0.2 and min(bottom, bottom2) - max(top, top2) > 0.2:
                found.append((one, other))
    return found
