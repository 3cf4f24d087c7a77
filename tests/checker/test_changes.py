"""What differs between two houses, said part by part."""

import json

from inspections.checker.changes import house_changes
from inspections.checker.house import House
from inspections.checker.load import load_house
from tests.conftest import EXAMPLES

PLAIN = json.loads((EXAMPLES / "gannet.json").read_text("utf-8"))


def loaded(**changed) -> House:
    return load_house(json.dumps(PLAIN | changed).encode())


def said(after: House) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(each.how, each.part, each.fields) for each in house_changes(loaded(), after)]


def test_the_same_house_has_no_change() -> None:
    assert said(loaded()) == []


def test_the_first_house_is_added_part_by_part() -> None:
    found = house_changes(None, loaded())
    boxes = [each.part for each in found if each.part.startswith("box ")]
    assert boxes == [f"box {box['id']}" for box in PLAIN["boxes"]]
    assert {each.how for each in found if each.part in boxes} == {"added"}


def test_parts_that_came_went_or_are_otherwise_are_told_apart() -> None:
    boxes = [*PLAIN["boxes"]]
    named = {d for box in boxes for device in box["devices"] for d in device.get("controls") or ()}
    named |= {
        o.get("light") for r in PLAIN["rooms"] for w in r["walls"] for o in w.get("openings", ())
    }
    first, last = boxes[0], next(box for box in boxes[1:] if box["id"] not in named)
    boxes.remove(last)
    boxes[0] = first | {"gangs": first.get("gangs", 1) + 1, "fixed": True}
    boxes.append(first | {"id": "NEW", "devices": []})
    cables = [c for c in PLAIN["cables"] if last["id"] not in c["ends"]]
    found = {(how, part): fields for how, part, fields in said(loaded(boxes=boxes, cables=cables))}
    assert found["changed", f"box {first['id']}"] == ("gangs: 1 to 2", "fixed: not recorded to yes")
    assert found["added", "box NEW"] == ()
    assert found["gone", f"box {last['id']}"] == ()


def test_the_house_itself_and_walls_within_rooms_are_told() -> None:
    rooms = json.loads(json.dumps(PLAIN["rooms"]))
    wall = rooms[0]["walls"][0]
    was = wall["length_mm"]
    wall["length_mm"] = was + 1
    assert ("changed", "note", ("it: " + loaded().note + " to other",)) in said(
        loaded(note="other")
    )
    (change,) = [each for each in said(loaded(rooms=rooms)) if each[1].startswith("room")]
    assert change[2] == (f"walls 1 length mm: {was:g} to {was + 1:g}",)


def test_many_fields_are_cut_short_with_their_number() -> None:
    rooms = json.loads(json.dumps(PLAIN["rooms"]))
    rooms[0] |= {
        "risers": 3, "vehicle_bays": 1, "in_use": True, "from_grade": True, "from_inside": True,
        "detached": True, "ceiling_mm": 2500, "x_mm": 12, "y_mm": 13,
    }  # fmt: skip
    (change,) = [each for each in said(loaded(rooms=rooms)) if each[1].startswith("room")]
    assert len(change[2]) == 7
    assert change[2][-1].startswith("and ")
