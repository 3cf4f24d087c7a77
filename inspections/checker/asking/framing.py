"""What a hole or a notch leaves of a member of the framing."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from config.messages.message import Length, Text, Value, message
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    Said,
    at_least,
    at_most,
    figure_rounding,
    limit_rounding,
    quantity,
    teller,
)
from inspections.checker.finding import Finding, FindingWords
from inspections.checker.measures import Comparator

SHARE = message("framing.share", "{size} of {member}: {share}; {limit} maximum")
LEFT = message("framing.left", "{member} − {size} = {left}; {limit} minimum")
FROM_BEARING = "bearing_percent"
"""The point that is a share of the way from the bearing, not of the cut."""
NOT_BY_EYE = ("bearing",)


@dataclass(frozen=True, slots=True)
class CutFacts(PointsFacts):
    """A hole or a notch: the points of its member, and the sizes that their figures come from."""

    size_mm: float | None
    """Across the hole, or the depth of the notch."""
    member_mm: float | None
    from_bearing_mm: float | None = None


def cut_teller(words: Mapping[str, Said]) -> Callable[[Finding], FindingWords]:
    """How a rule of cuts tells its findings: as points, with the arithmetic in the working."""
    tell = teller(words)

    def with_steps(finding: Finding) -> FindingWords:
        told, facts = tell(finding), finding.facts
        if not isinstance(facts, CutFacts):
            return told
        working: list[Value] = []
        for point, line in zip(facts.points, told.working, strict=True):
            step = _step(facts, point, words[point.name].way)
            working.append(step or line)
        return replace(told, working=tuple(working))

    return with_steps


def _step(facts: CutFacts, point: Point, way: Comparator | None) -> Text | None:
    """How a figure that is a share or a rest comes from what was measured."""
    size = facts.size_mm
    if point.name == FROM_BEARING:
        size = facts.from_bearing_mm
    if size is None or facts.member_mm is None:
        return None
    sizes = {"size": Length(size), "member": Length(facts.member_mm)}
    figure = quantity(point.name, point.found, figure_rounding(way, point.holds))
    limit = quantity(point.name, point.limit, limit_rounding(way))
    if point.name.endswith("_percent"):
        return SHARE(**sizes, share=figure, limit=limit)
    if point.name.endswith("_left_mm"):
        return LEFT(**sizes, left=figure, limit=limit)
    return None


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
    """What is required of a stud that bears load, and of one that bears less (`light`).

    When nobody knows which it is, it holds if it would as either.
    """
    percent = part_of(size_mm, member_mm)
    bearing = at_most("stud_bearing_percent", percent, values["stud_bearing_percent"])
    if "stud_left_mm" in values:
        rest = left(size_mm, member_mm)
        other = at_least("stud_left_mm", rest, values["stud_left_mm"])
    else:
        other = at_most("stud_other_percent", percent, values["stud_other_percent"])
    if light is not None:
        yield other if light else bearing
    elif bearing.holds == other.holds:
        yield bearing
    else:
        yield Point("bearing", None, True, None)
