"""When a quick table is red: a goal that was reached and is not, a known miss that grew."""

import pytest

from bench.table import ROOM, Miss, misses, of_any_size, table_faults

KNOWN = [Miss("a sweep of N jobs", 50.0, "it settles them")]
SWEEP = ("a sweep of 1,000 jobs", 40.0, 1.0, 3)


def test_a_goal_that_was_reached_has_room_for_noise_and_no_more() -> None:
    assert table_faults([SWEEP, ("a check", 2.0, 1.0, 2)], KNOWN)[0] == []
    faults, notes = table_faults([SWEEP, ("a check", 2.0 * ROOM - 0.1, 1.0, 2)], KNOWN)
    assert faults == []
    assert any("within the room" in note for note in notes)
    [fault] = table_faults([SWEEP, ("a check", 2.0 * ROOM + 0.1, 1.0, 2)], KNOWN)[0]
    assert fault.startswith("a check: 3.10, goal 2")


def test_a_known_miss_is_said_and_may_not_grow() -> None:
    faults, notes = table_faults([SWEEP], KNOWN)
    assert (faults, notes) == ([], ["a sweep of 1,000 jobs: a known miss: it settles them"])
    [fault] = table_faults([("a sweep of 250 jobs", 51.0, 1.0, 3)], KNOWN)[0]
    assert "50" in fault


def test_a_miss_that_is_none_any_more_is_said() -> None:
    faults, [note] = table_faults([("a sweep of 250 jobs", 2.0, 1.0, 3)], KNOWN)
    assert faults == []
    assert "reaches its goal" in note


def test_a_miss_of_no_row_is_a_fault() -> None:
    [fault] = table_faults([("a check", 1.0, 1.0, 2)], KNOWN)[0]
    assert "a sweep of N jobs" in fault


@pytest.mark.parametrize(
    ("what", "name"),
    [("1,000 houses on 2 cores", "N houses on N cores"), ("a check", "a check")],
)
def test_sizes_are_no_part_of_a_name(what: str, name: str) -> None:
    assert of_any_size(what) == name


def test_every_known_miss_has_a_reason() -> None:
    assert all(each.because and each.at_most > 0 for each in misses())
