"""What was built otherwise than drawn, without signal: boxes and names of circuits."""

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from inspections.models import FactCorrection
from inspections.selectors import latest_revision
from tests.browser.test_walk import open_walk
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
CHANGES, TAPS = 8, 40


class Taps:
    """A lead's taps on the walk; what is typed into a field that was tapped is none."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.count = 0

    def tap(self, target: Locator) -> None:
        target.click()
        self.count += 1

    def write(self, field: Locator, text: str) -> None:
        self.tap(field)
        field.fill(text)

    def choose(self, field: Locator, value: str) -> None:
        """A list is opened by one tap and chosen from by another."""
        field.select_option(value)
        self.count += 2

    def to_room(self, name: str) -> None:
        rooms = self.page.locator("#room")
        value = sure(rooms.locator("option", has_text=name).first.get_attribute("value"))
        self.choose(rooms, value)
        expect(self.page.locator("#room-name")).to_contain_text(name)

    def box(self, name: str) -> Locator:
        row = self.page.locator(f"#built [data-box='{name}']")
        self.tap(row.locator("summary"))
        return row

    def moved(self, name: str, at: str) -> None:
        row = self.box(name)
        self.write(row.get_by_label("from the left end"), at)
        self.tap(row.get_by_role("button", name="Record as moved"))
        expect(row).to_contain_text("Moved. Not sent yet.")

    def removed(self, name: str) -> None:
        row = self.box(name)
        self.tap(row.get_by_role("button", name="Removed: not there"))
        expect(row).to_contain_text("Removed. Not sent yet.")

    def added(self, wall: str, at: str, fed_from: str = "") -> None:
        part = self.page.locator("#built > details")
        if not part.evaluate("each => each.open"):
            self.tap(part.locator("summary"))
        walls = part.locator("select", has=self.page.locator(f"option[value='{wall}']")).first
        if walls.input_value() != wall:
            self.choose(walls, wall)
        self.write(part.get_by_label("from the left end"), at)
        if fed_from:
            self.choose(part.get_by_label("Fed from"), fed_from)
        self.tap(part.get_by_role("button", name="Record the new box"))
        expect(part).to_contain_text(f"wall {wall}, {at}: Added. Not sent yet.")

    def renamed(self, label: str, name: str) -> None:
        row = self.page.locator("#circuits li").filter(has_text=label).first
        self.tap(row.locator("summary").first)
        self.write(row.get_by_label("Name"), name)
        self.tap(row.get_by_role("button", name="Rename"))
        expect(row).to_contain_text("Renamed. Not sent yet.")


def by_id(house: Any, kind: str) -> dict[str, Any]:
    return {part["id"]: part for part in house[kind]}


def test_eight_changes_of_a_house_take_few_taps(
    lead_walk, live_server, shop, planted_bytes
) -> None:
    phone, job = lead_walk
    drawn = json.loads(planted_bytes)
    boxes = by_id(drawn, "boxes")
    living = [box for box in drawn["boxes"] if box["room"] == "living"]
    on_wall = [box["id"] for box in living if box["place"]["surface"] == "wall"]
    taps = Taps(phone.page)
    phone.page.context.set_offline(True)
    name = next(room["name"] for room in drawn["rooms"] if room["id"] == "living")
    taps.to_room(name)
    taps.tap(phone.page.locator("#built > summary"))
    taps.moved(on_wall[0], "700 mm")
    taps.moved(on_wall[1], "2' 4\"")
    taps.removed(on_wall[2])
    taps.removed(on_wall[3])
    walls = next(room["walls"] for room in drawn["rooms"] if room["id"] == "living")
    taps.added(walls[0]["id"], "500 mm", on_wall[0])
    taps.added(walls[0]["id"], "900 mm")
    circuits = drawn["circuits"][:2]
    taps.tap(phone.page.locator("#circuits > summary"))
    for number, circuit in enumerate(circuits):
        taps.renamed(circuit["name"], f"Range {number}")
    expect(phone.page.locator("#unsafe")).to_have_attribute("data-count", str(CHANGES))
    print(f"\n{CHANGES} changes of the house: {taps.count} taps")
    assert taps.count <= TAPS
    phone.kill()
    phone.start()
    open_walk(phone, live_server.url, shop.lead, job)
    saved = phone.page.get_by_text("Everything is sent and saved")
    expect(saved).to_be_visible(timeout=90_000)
    assert FactCorrection.objects.filter(job=job).count() == CHANGES
    house = json.loads(sure(latest_revision(job)).house)
    now = by_id(house, "boxes")
    assert now[on_wall[0]]["place"] == boxes[on_wall[0]]["place"] | {"at_mm": 700.0}
    assert now[on_wall[1]]["place"]["at_mm"] == pytest.approx(711.2)
    assert not {on_wall[2], on_wall[3]} & set(now)
    new = [box for name, box in now.items() if name not in boxes]
    assert [box["place"]["at_mm"] for box in new] == [500.0, 900.0]
    assert [box["room"] for box in new] == ["living", "living"]
    fed = [bool(box["devices"][0].get("circuit")) for box in new]
    assert fed == [True, False]
    named = [by_id(house, "circuits")[circuit["id"]]["name"] for circuit in circuits]
    assert named == ["Range 0", "Range 1"]


def test_what_the_site_refuses_is_typed_again_and_what_is_not_sent_is_taken_back(
    lead_walk, live_server, shop, planted_bytes
) -> None:
    phone, job = lead_walk
    drawn = json.loads(planted_bytes)
    page = phone.page
    taps = Taps(page)
    name = next(room["name"] for room in drawn["rooms"] if room["id"] == "living")
    taps.to_room(name)
    taps.tap(page.locator("#built > summary"))
    box = next(
        box["id"]
        for box in drawn["boxes"]
        if box["room"] == "living" and box["place"]["surface"] == "wall"
    )
    page.context.set_offline(True)
    taps.removed(box)
    page.get_by_role("button", name="Undo: not sent yet").click()
    expect(page.locator("#unsafe")).to_have_attribute("data-count", "0")
    page.context.set_offline(False)
    row = page.locator(f"#built [data-box='{box}']")
    row.locator("summary").click()
    field = row.get_by_label("from the left end")
    row.get_by_role("button", name="Record as moved").click()
    expect(field).to_be_focused()
    field.fill("39 m")
    row.get_by_role("button", name="Record as moved").click()
    page.get_by_role("button", name="Send and refresh").click()
    expect(row).to_contain_text("Refused:", timeout=60_000)
    row.locator("summary").click()
    expect(field).to_have_value("39 m")
    assert not FactCorrection.objects.filter(job=job).exists()
