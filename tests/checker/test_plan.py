"""Distances on the plan of a room."""

from typing import Any

import pytest

from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.plan import RoomPlan, missing_of
from inspections.checker.house.boxes import Box
from inspections.checker.house.fixtures import Fixture
from tests.checker.build import house


def plan(*walls: Any, **room: Any) -> RoomPlan:
    """The plan of a room of such walls, the first going east from nothing."""
    made = house(room={"walls": list(walls), **room}).rooms[0]
    return RoomPlan(made, FloorLine(made))


def tub(wall: str, at: float, width: float, depth: float, **more: Any) -> Fixture:
    """A tub that stands so along a wall."""
    given = {"id": "T", "kind": "tub", "wall": wall, "at_mm": at} | more
    return Fixture.model_validate(given | {"width_mm": width, "depth_mm": depth}, strict=False)


def box(place: str | dict[str, Any]) -> Box:
    """A box at a place."""
    walls = [5000, 3000, 5000, 3000]
    return house(room={"walls": walls}, boxes=[{"place": place}]).boxes[0]


SQUARE = (5000, 3000, 5000, 3000)


@pytest.mark.parametrize(
    ("place", "point"),
    [
        ("a@1000^300", (1000, 0)),
        ("b@1000^300", (5000, -1000)),
        ("c@1000^300", (4000, -3000)),
        ("d@1000^300", (0, -2000)),
        ("a@1000_450", (1000, -450)),
        ("d@1000_450", (450, -2000)),
        ("a@1000_?", None),
        ("ceiling@700x-800", (700, -800)),
        ("ceiling", None),
        ({"surface": "ceiling", "x_mm": 5.0}, None),
        ({"surface": "space"}, None),
    ],
)
def test_where_a_box_is(place: Any, point: Any) -> None:
    found = plan(*SQUARE).of(box(place))
    assert found == (None if point is None else pytest.approx(point))


def test_a_room_stands_where_the_plan_says_and_as_it_is_turned() -> None:
    moved = plan(*SQUARE, x_mm=100, y_mm=200, heading_deg=0)
    assert moved.at("a", 1000) == pytest.approx((100, 1200))
    assert moved.at("a", 1000, 300) == pytest.approx((400, 1200))


@pytest.mark.parametrize(
    ("point", "distance"),
    [
        ((500, 0), 500),
        ((1000, 0), 0),
        ((1800, -400), 0),
        ((2500, -700), 0),
        ((2800, -1100), 500),
        ((1700, -1700), 1000),
        ((600, -1000), 500),
    ],
)
def test_how_far_a_point_is_from_a_fixture(point, distance) -> None:
    assert plan(*SQUARE).apart(point, tub("a", 1000, 1500, 700)) == pytest.approx(distance)


def test_a_fixture_may_stand_off_its_wall() -> None:
    off = tub("a", 1000, 1500, 700, from_wall_mm=300.0)
    assert plan(*SQUARE).apart((1500, 0), off) == pytest.approx(300)
    assert plan(*SQUARE).apart((1500, -1100), off) == pytest.approx(100)


def test_a_fixture_along_any_wall() -> None:
    assert plan(*SQUARE).apart((5000, 0), tub("b", 1000, 500, 700)) == pytest.approx(1000)
    assert plan(*SQUARE).apart((4000, -1200), tub("b", 1000, 500, 700)) == pytest.approx(300)
    assert plan(*SQUARE).apart((0, 0), tub("c", 0, 1500, 700)) == pytest.approx(4188.078, abs=0.01)


@pytest.mark.parametrize("missing", ["wall", "at_mm", "width_mm", "depth_mm"])
def test_a_missing_fact_leaves_the_distance_unknown(missing: str) -> None:
    bare = tub("a", 1000, 1500, 700).model_copy(update={missing: None})
    assert plan(*SQUARE).apart((0, 0), bare) is None
    assert plan(*SQUARE).farthest(bare) is None
    assert not plan(*SQUARE).walled_off((0, 0), bare)
    assert missing_of(bare) == [missing.replace("_mm", "").replace("at", "place")]


def test_nothing_is_missing_of_a_placed_fixture() -> None:
    assert missing_of(tub("a", 0, 1, 1)) == []


def test_the_farthest_corner() -> None:
    assert plan(*SQUARE).farthest(tub("a", 0, 1000, 1000)) == pytest.approx(4472.136, abs=0.01)


ELL = (
    *({"length_mm": 4000}, {"length_mm": 1000}, {"length_mm": 2000, "turn_deg": -90}),
    *({"length_mm": 2000}, {"length_mm": 2000}, {"length_mm": 3000}),
)


def test_a_wall_of_an_l_shaped_room_stands_between() -> None:
    corner = plan(*ELL)
    far = tub("a", 3000, 900, 500)
    assert corner.walled_off((2000, -2500), far)
    assert corner.walled_off((1900, -2900), far)
    assert not corner.walled_off((500, -200), far)
    assert not corner.walled_off((100, -1000), far)


def test_a_line_that_only_touches_a_corner_is_free() -> None:
    corner = plan(*ELL)
    assert not corner.walled_off((2000, -1000), tub("a", 3000, 900, 500))
    assert not corner.walled_off((1000, -1500), tub("a", 3000, 900, 500))


def test_an_open_side_or_a_railing_stands_in_no_way() -> None:
    sides: list[dict[str, Any]] = [dict(side) for side in ELL]
    sides[2]["kind"] = "open"
    sides[3]["kind"] = "railing"
    assert not plan(*sides).walled_off((2000, -2500), tub("a", 3000, 900, 500))
