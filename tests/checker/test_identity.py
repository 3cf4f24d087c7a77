"""Items through revisions: what keeps its key, and what a change opens."""

import copy
import json
from functools import cache
from random import Random
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding
from inspections.checker.load import HouseFaults, load_house
from inspections.checker.rulebook import rulebook_ids
from tests.checker.build import findings, house
from tests.checker.drawn_houses import drawn_house
from tests.conftest import EXAMPLES
from tests.lengths import examples

Data = dict[str, Any]
QUILLET = json.loads((EXAMPLES / "quillet-corrected.json").read_text("utf-8"))
LISTS = ("boxes", "cables", "circuits", "separations", "holes", "appliances", "counters")


def prints(data: Data, book: str = "cec-2021") -> dict[str, str]:
    """The fingerprint of each item, by its key."""
    return {key: finding.fingerprint for key, finding in found(data, book).items()}


def found(data: Data, book: str) -> dict[str, Finding]:
    """Each finding, by its key."""
    made = load_house(json.dumps(data).encode())
    return {finding.key: finding for finding in check(made, load_rulebook(book))}


@cache
def plain() -> dict[str, str]:
    """Those of the example house as it is."""
    return prints(QUILLET)


def opened(kind: str, part_id: str, /, **facts: Any) -> set[str]:
    """The items of the example house that change, come or go when a part is otherwise."""
    data = copy.deepcopy(QUILLET)
    part = next(part for part in data[kind] if part["id"] == part_id)
    part |= facts
    now = prints(data)
    return {key for key in {*plain(), *now} if plain().get(key) != now.get(key)}


def first(kind: str, /, **facts: Any) -> Data:
    """The first part of the example house with these facts."""
    return next(p for p in QUILLET[kind] if all(p.get(key) == x for key, x in facts.items()))


def test_a_volume_opens_the_fill_of_its_box_alone() -> None:
    box = next(box for box in QUILLET["boxes"] if box.get("volume_ml"))
    assert opened("boxes", box["id"], volume_ml=box["volume_ml"] + 1) == {f"box-fill:{box['id']}"}


def test_a_name_opens_nothing() -> None:
    assert opened("boxes", QUILLET["boxes"][3]["id"], name="by the window") == set()
    changed = opened("rooms", QUILLET["rooms"][0]["id"], name="Parlour")
    telling = "carbon-monoxide-alarms:"  # they tell the room of the fuel or the garage by its name
    assert all(key.startswith(telling) for key in changed)


def test_a_receptacle_moved_along_its_wall_opens_items_of_its_room_alone() -> None:
    room = first("rooms", kind="bedroom")["id"]
    box = next(
        box
        for box in QUILLET["boxes"]
        if box["room"] == room and box["place"]["surface"] == "wall" and box["devices"]
        if box["devices"][0]["kind"] == "receptacle"
    )
    place = box["place"] | {"at_mm": box["place"]["at_mm"] + 5}
    made = load_house(json.dumps(QUILLET).encode())
    rooms = {f.key: f.spot.room for f in check(made, load_rulebook("cec-2021"))}
    changed = opened("boxes", box["id"], place=place)
    assert any(key.startswith(f"wall-receptacles:{room}/") for key in changed)
    assert {rooms[key] for key in changed} == {room}


def test_a_swing_opens_no_room_but_its_own() -> None:
    room = next(r for r in QUILLET["rooms"] if any(_doors(r)) and r["kind"] == "bedroom")
    walls = copy.deepcopy(room["walls"])
    door = next(_doors({"walls": walls}))
    door["swing"] = "left" if door.get("swing") != "left" else "right"
    changed = opened("rooms", room["id"], walls=walls)
    assert changed
    assert all(room["id"] in key for key in changed)


def _doors(room: Data) -> Any:
    return (o for wall in room["walls"] for o in wall.get("openings", ()) if o["kind"] == "door")


def test_a_limit_that_is_amended_opens_the_items_that_rest_on_it_and_no_other() -> None:
    overlay = (
        '[[amend]]\nlimit = "hallway-receptacles.reach_mm"\nvalue = 4400\n'
        'unit = "mm"\nreason = "the town asks for it"\n'
    )
    made = load_house(json.dumps(QUILLET).encode())
    now = {
        finding.key: finding.fingerprint
        for finding in check(made, load_rulebook("cec-2021", overlay))
    }
    changed = {key for key in now if now[key] != plain()[key]}
    assert changed == {key for key in now if key.startswith("hallway-receptacles:")}
    assert changed


def test_a_room_that_is_added_leaves_every_other_item_as_it_was() -> None:
    data = copy.deepcopy(QUILLET)
    shed = {"id": "shed", "name": "Shed", "kind": "storage", "storey": data["storeys"][0]["id"]}
    data["rooms"].insert(0, shed | {"area": data["areas"][0]["id"]})
    now = prints(data)
    assert {key: now[key] for key in plain()} == plain()


def test_a_set_is_the_same_in_any_order_and_a_tuple_is_not() -> None:
    finding = findings(house(), "nec-2023")["lighting-outlets:r"]
    assert finding.rule.facts is not None

    def as_if(value: Any) -> str:
        return type(finding)(
            finding.rule, finding.subject, finding.verdict, finding.spot, {"x": value}, ()
        ).fingerprint

    assert as_if(frozenset((("b", 1), ("a", 2)))) == as_if(frozenset((("a", 2), ("b", 1))))
    assert as_if(frozenset((("b", 1),))) != as_if(frozenset((("b", 2),)))
    assert as_if((1, 2)) != as_if((2, 1))
    assert as_if(frozenset(((1, 2),))) != as_if(frozenset(((2, 1),)))


@examples(100, 2000)
@given(st.integers(0, 2**48), st.sampled_from(rulebook_ids()))
def test_the_order_of_parts_in_a_file_opens_nothing(seed: int, book: str) -> None:
    data = drawn_house(seed)
    pairs = [tuple(sorted(each["cables"])) for each in data.get("separations", ())]
    assume(len(set(pairs)) == len(pairs))  # two places with the same cables are told by turn
    other, rng = copy.deepcopy(data), Random(seed)
    for kind in LISTS:
        rng.shuffle(other.get(kind, []))
    try:
        now, then = found(other, book), found(data, book)
    except HouseFaults:
        assume(False)
    assert now.keys() == then.keys()
    assert [now[key].verdict for key in now] == [then[key].verdict for key in now]
    # Looks, and what is said of circuits and switches, still name parts in the file's order.
    settled = [
        key
        for key in now
        if ":room:" not in key and now[key].rule.topic not in ("circuits", "switching")
    ]
    assert [now[key].fingerprint for key in settled] == [then[key].fingerprint for key in settled]


@pytest.mark.parametrize("name", ["quillet-planted.json", "marten.json", "gannet.json"])
def test_items_come_by_stage_area_room_and_then_as_one_walks(name: str) -> None:
    made = load_house((EXAMPLES / name).read_bytes())
    found = check(made, load_rulebook(made.rulebook or ""))
    areas = {area.id: rank for rank, area in enumerate(made.areas)}
    rooms = {room.id: rank for rank, room in enumerate(made.rooms)}
    order = [
        (f.rule.stage != "rough-in", areas[f.spot.area], rooms[f.spot.room], f.spot.order[2:])
        for f in found
    ]
    assert order == sorted(order)
