"""A house as it was built: what a box takes with it, and what a new one has."""

import json
from copy import deepcopy
from typing import Any

import pytest

from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.paths import NoSuchPath, put_at
from inspections.checker.load import load_house
from inspections.fixes.as_built import box_added, box_moved, box_removed, circuit_renamed
from inspections.fixes.as_pulled import hops_of
from inspections.fixes.cables_changed import Change
from inspections.fixes.fixes import HouseFacts
from tests.fixes.test_as_pulled import long_run

from . import planted

BOXES = [each["id"] for each in planted.raw()["boxes"]]


def after(changes: list[Change], house: dict[str, Any] | None = None) -> dict[str, Any]:
    built = deepcopy(house or planted.raw())
    for path, _, value in changes:
        put_at(built, path, deepcopy(value))
    return built


def undone(changes: list[Change], house: dict[str, Any]) -> dict[str, Any]:
    before = deepcopy(house)
    for path, value, _ in reversed(changes):
        put_at(before, path, deepcopy(value))
    return before


def by_id(house: dict[str, Any], kind: str) -> dict[str, Any]:
    return {json.dumps(part, sort_keys=True): part for part in house[kind]}


@pytest.mark.parametrize("box", BOXES)
def test_a_box_is_removed_and_put_back_and_the_house_can_be_read(box: str) -> None:
    changes = box_removed(planted.raw(), box)
    house = after(changes)
    load_house(json.dumps(house).encode())
    assert f'"{box}"' not in json.dumps({kind: house[kind] for kind in ("boxes", "cables")})
    back = undone(changes, house)
    for kind in ("boxes", "cables", "holes", "bundles", "fastenings", "separations"):
        assert by_id(back, kind) == by_id(planted.raw(), kind), kind


def test_the_run_goes_on_past_a_box_that_is_not_there() -> None:
    circuit, hops = long_run()
    (_, first), (_, second), *_ = hops
    house = after(box_removed(planted.raw(), first))
    now = hops_of(house, circuit)
    assert (hops[0][0], second) in now
    assert len(now) == len(hops) - 1
    fresh = next(c for c in house["cables"] if tuple(c["ends"]) == (hops[0][0], second))
    assert "length_mm" not in fresh
    assert fresh["awg"]


def test_a_switch_forgets_a_light_that_is_gone_and_a_cable_what_it_passed() -> None:
    house = deepcopy(planted.raw())
    switch = next(b for b in house["boxes"] if b["id"] == "S2")
    switch["devices"][0]["controls"] = ["L1"]
    switch["devices"][1]["controls"] = ["L1", "L2"]
    cable = next(c for c in house["cables"] if "L1" not in c["ends"])
    cable["through"] = [{"box": "L1"}]
    built = after(box_removed(house, "L1"), house)
    now = next(b for b in built["boxes"] if b["id"] == "S2")
    assert "controls" not in now["devices"][0]
    assert now["devices"][1]["controls"] == ["L2"]
    kept = next(c for c in built["cables"] if c["id"] == cable["id"])
    assert kept["through"] == []


def test_a_moved_box_keeps_what_is_not_said_of_its_place() -> None:
    ((path, was, now),) = box_moved(
        planted.raw(), "R1", {"surface": "wall", "wall": "w", "at_mm": 1000.0}
    )
    assert path == ("boxes", "R1", "place")
    assert now == was | {"at_mm": 1000.0}
    ((_, _, other),) = box_moved(planted.raw(), "R1", {"surface": "ceiling"})
    assert other == {"surface": "ceiling"}


def test_a_new_box_has_its_device_and_its_feed_and_nothing_that_nobody_said() -> None:
    facts = HouseFacts(planted.house())
    place = {"surface": "wall", "wall": "n", "at_mm": 500.0}
    circuit, hops = long_run()
    given: dict[str, Any] = {"room": "living", "device": DeviceKind.RECEPTACLE, "place": place}
    (path, _, box), (_, _, cable) = box_added(facts, fed_from=hops[0][1], **given)
    assert path == ("boxes", "R57")
    assert box["devices"] == [{"kind": "receptacle", "circuit": circuit}]
    assert "volume_ml" not in box
    assert cable["ends"] == [hops[0][1], "R57"]
    assert cable["circuit"] == circuit
    load_house(json.dumps(after(box_added(facts, fed_from=hops[0][1], **given))).encode())
    ((_, _, alone),) = box_added(facts, fed_from="", **given)
    assert alone["devices"] == [{"kind": "receptacle"}]
    for nowhere in ("P1", "R999"):
        with pytest.raises(NoSuchPath):
            box_added(facts, fed_from=nowhere, **given)


def test_what_is_not_there_is_not_changed() -> None:
    for call in (
        lambda: box_removed(planted.raw(), "R999"),
        lambda: box_moved(planted.raw(), "R999", {"surface": "ceiling"}),
        lambda: circuit_renamed(planted.raw(), "no-circuit", "Range"),
    ):
        with pytest.raises(NoSuchPath):
            call()
