"""What a hole or a notch leaves of a member of the framing."""

from collections.abc import Iterator, Mapping

from inspections.checker.asking.loose_points import Point, at_least, measure_at_most


def part_of(size_mm: float | None, member_mm: float | None) -> float | None:
    """A size in percent of the member's depth; None when either is missing."""
    if size_mm is None or member_mm is None:
        return None
    return 100 * size_mm / member_mm


def left(size_mm: float | None, member_mm: float | None) -> float | None:
    """The wood that a cut leaves of the member's depth, in mm."""
    if size_mm is None or member_mm is None:
        return None
    return member_mm - size_mm


def stud_points(
    size_mm: float | None, member_mm: float | None, light: bool | None, values: Mapping[str, float]
) -> Iterator[Point]:
    """What is asked of a stud that bears load, and of one that bears less (`light`).

    When nobody knows which it is, it holds if it would as either.
    """
    percent = part_of(size_mm, member_mm)
    bearing = measure_at_most("stud_bearing_percent", percent, values["stud_bearing_percent"])
    if "stud_left_mm" in values:
        rest = left(size_mm, member_mm)
        other = at_least("stud_left_mm", rest, values["stud_left_mm"])
    else:
        other = measure_at_most("stud_other_percent", percent, values["stud_other_percent"])
    if light is not None:
        yield other if light else bearing
    elif bearing.holds == other.holds:
        yield bearing
    else:
        yield Point("bearing", None, True, None, eyes=False)
