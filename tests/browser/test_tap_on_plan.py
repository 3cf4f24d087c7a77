"""A receptacle that is lacking is put where somebody taps the plan of the job's page."""

import json

import pytest
from playwright.sync_api import Page, expect

from inspections.models import FactCorrection
from inspections.overview.correctable import correctable
from inspections.selectors import latest_revision
from tests.browser.test_job_page import page  # noqa: F401  (a fixture)
from tests.browser.test_tour import sign_in
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
]
FINGER_MM = 60
"""A tap of a test is as near as a pixel of the plan."""
ON_SCREEN = """([x, y]) => {
  const svg = document.querySelector("svg.house-plan");
  const at = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());
  return [at.x, at.y];
}"""


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def test_a_tap_on_the_plan_is_a_place_along_its_wall(page: Page, live_server, shop, job) -> None:  # noqa: F811
    told = correctable(job)
    added = [
        (each, fix)
        for each in told["lines"]
        for fix in each["fixes"]
        if fix["kind"] == "added" and fix["path"][0] == "boxes" and not fix["choices"]
    ]
    line, fix = added[0]
    room, place = fix["to"]["room"], fix["to"]["place"]
    left_x, left_y, right_x, right_y = told["walls"][room][place["wall"]]
    length = ((right_x - left_x) ** 2 + (right_y - left_y) ** 2) ** 0.5
    part = (place["at_mm"] + 40) / length
    aimed = [left_x + (right_x - left_x) * part, left_y + (right_y - left_y) * part]

    sign_in(page, live_server.url, shop.lead)
    page.goto(f"{live_server.url}/jobs/{job.id}/?room={room}&item={line['item']}")
    row = page.locator(f"#item-{line['item']}")
    row.evaluate("(line) => { line.open = true; }")
    row.get_by_role("button", name="Fixed", exact=True).click()
    row.get_by_role("button", name="Tap its place on the plan").first.click()
    expect(page.locator(".runs-said")).to_contain_text("Tap the place")
    page.keyboard.press("Escape")
    expect(page.locator(".runs-said")).to_be_empty()
    row.get_by_role("button", name="Tap its place on the plan").first.click()
    page.wait_for_timeout(400)
    page.mouse.click(*page.evaluate(ON_SCREEN, aimed))
    here = row.get_by_role("button", name=f"Here: wall {place['wall']}").first
    here.click()
    expect(page.locator(".recorded")).to_be_visible(timeout=30_000)
    (made,) = FactCorrection.objects.filter(job=job)
    assert made.made_by == shop.lead
    house = json.loads(sure(latest_revision(job)).house)
    (box,) = (each for each in house["boxes"] if each["id"] == fix["path"][1])
    assert (box["room"], box["place"]["wall"]) == (room, place["wall"])
    assert abs(box["place"]["at_mm"] - place["at_mm"] - 40) <= FINGER_MM
    assert box["place"].get("height_mm") == place.get("height_mm")
