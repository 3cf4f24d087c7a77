"""The floor line of a room."""

import pytest

from inspections.checker.geometry.floor_line import Breaks, FloorLine
from inspections.checker.house.rooms import OpeningKind
from tests.checker.build import house

DOORWAYS = frozenset({OpeningKind.DOOR, OpeningKind.OPENING})
PLAIN = Breaks(DOORWAYS)


def line(**room) -> FloorLine:
    """The floor line of a room."""
    return FloorLine(house(room=room).rooms[0])


def spans(made: FloorLine, breaks: Breaks = PLAIN, taken=()) -> list[tuple[str, int, float, float]]:
    """The spaces: wall, number, from, to."""
    return [(s.wall, s.number, s.start, s.end) for s in made.spaces(breaks, taken)]


def test_a_space_is_named_after_the_wall_it_begins_on() -> None:
    made = line(closed=False, walls=["4000 door 1000+800, opening 3000+500", "1000 door 200+800"])
    assert spans(made) == [("a", 1, 0, 1000), ("a", 2, 1800, 3000), ("a", 3, 3500, 4200)]


def test_a_space_that_ends_at_a_corner_leaves_the_next_wall_its_own() -> None:
    made = line(closed=False, walls=["2000", "2000 door 0+900"])
    assert spans(made) == [("a", 1, 0, 2000), ("b", 1, 2900, 4000)]


def test_in_a_closed_room_the_last_space_runs_into_the_first() -> None:
    made = line(walls=["3000 door 1000+800", "2000", "3000", "2000 opening 500+500"])
    assert spans(made) == [("a", 1, 1800, 8500), ("d", 1, 9000, 11000)]


def test_without_a_break_a_closed_line_is_a_ring() -> None:
    (space,) = line(walls=["3000", "2000", "3000", "2000"]).spaces(PLAIN)
    assert (space.ring, space.length) == (True, 10000)


def test_without_a_break_an_open_line_is_no_ring() -> None:
    (space,) = line(closed=False, walls=["3000", "2000"]).spaces(PLAIN)
    assert (space.ring, space.length) == (False, 5000)


def test_counters_are_taken_out() -> None:
    made = line(closed=False, walls=["5000"])
    assert spans(made, taken=[(1000, 3000)]) == [("a", 1, 0, 1000), ("a", 2, 3000, 5000)]


@pytest.mark.parametrize(
    ("wall", "usable"),
    [
        ("4000 door 1000+800 none", [(0, 1000), (1800, 4000)]),
        ("4000 door 1000+800 left", [(0, 200), (1800, 4000)]),
        ("4000 door 1000+800 right", [(0, 1000), (2600, 4000)]),
        ("4000 door 500+800 left", [(1300, 4000)]),
    ],
)
def test_an_open_leaf_takes_the_wall_it_stands_against(wall, usable) -> None:
    made = line(closed=False, walls=[wall])
    leafy = Breaks(DOORWAYS, door_leaf=True)
    assert [(s.start, s.end) for s in made.spaces(leafy)] == usable


def test_a_leaf_with_less_wall_beside_it_turns_the_corner() -> None:
    made = line(walls=["3000 door 100+800 left", "2000", "3000", "2000"])
    (space,) = made.spaces(Breaks(DOORWAYS, door_leaf=True))
    assert (space.start, space.end) == (900, 9200)


def test_a_missing_swing_is_a_doubt_on_both_sides() -> None:
    made = line(closed=False, walls=["6000 door 2000+800"])
    first, second = made.spaces(Breaks(DOORWAYS, door_leaf=True))
    assert [(d.start, d.end, d.missing, d.where) for d in first.doubts] == [
        (1200, 2000, "swing", "a")
    ]
    assert [(d.start, d.end) for d in second.doubts] == [(2800, 3600)]


def test_a_missing_sill_is_a_doubt_only_where_the_floor_matters() -> None:
    made = line(closed=False, walls=["6000 window 2000+800"])
    (space,) = made.spaces(Breaks(DOORWAYS, window_to_floor=True))
    assert [(d.start, d.end, d.missing) for d in space.doubts] == [(2000, 2800, "sill")]
    (space,) = made.spaces(PLAIN)
    assert space.doubts == ()


def test_positions_and_walls_agree() -> None:
    made = line(walls=["3000", "2000", "3000", "2000"])
    assert made.position("c", 500) == 5500
    assert made.wall_at(5500) == ("c", 500)
    assert made.wall_at(10500) == ("a", 500)
    assert made.wall_at(3000) == ("b", 0)


def test_corners_on_the_plan_go_clockwise() -> None:
    made = line(walls=["3000", "2000", "3000", "2000"], x_mm=100, y_mm=50)
    rounded = [(round(x), round(y)) for x, y in made.corners()]
    assert rounded == [(100, 50), (3100, 50), (3100, -1950), (100, -1950)]
