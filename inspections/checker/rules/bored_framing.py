"""Holes bored in joists, studs and plates."""

from collections.abc import Iterator, Mapping

from inspections.checker.asking.framing import left, part_of, stud_points
from inspections.checker.asking.loose_points import (
    Asked,
    Point,
    at_least,
    judged,
    measure_at_most,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Hole, Member
from ..site import HouseByCode

NAME = "bored-framing"
SMALLER = "Have the member reinforced, and bore smaller."
INWARD = "Have the member reinforced, and bore nearer its middle."
WORDS = {
    "joist_percent": Asked("hole in percent of the joist's depth", SMALLER, "at most"),
    "joist_edge_mm": Asked("from the hole to the joist's edge", INWARD, "at least"),
    "stud_bearing_percent": Asked("hole in percent of a bearing stud", SMALLER, "at most"),
    "stud_other_percent": Asked("hole in percent of a stud that bears less", SMALLER, "at most"),
    "stud_edge_mm": Asked("from the hole to the stud's edge", INWARD, "at least"),
    "stud_left_mm": Asked("wood left of a stud that bears nothing", SMALLER, "at least"),
    "plate_left_mm": Asked("wood left of a bearing wall's plate", SMALLER, "at least"),
    "bearing": Asked("whether the wall carries load", SMALLER),
}


@rule(
    NAME,
    topic="cables",
    title="Holes in framing",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "stud_edge_mm", "joist_edge_mm", "stud_left_mm", "plate_left_mm"),
)
def bored_framing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Holes for cables leave joists, studs and plates as strong as the building code asks.

    Engineered members are bored only as their maker lets it, and are left out here. A room in
    which cables end and no hole is recorded is left to eyes.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    here, bored = Round(this, site, limits), set()
    for hole in site.house.holes:
        bored.add(hole.room)
        yield from here.part(hole, "hole", judged(list(_points(hole, values))))
    unseens = []
    for name, value in values.items():
        unseens.append(_unseen(name, value))
    asked = judged(unseens)
    for cable in site.house.cables:
        if rooms := [room for room in site.rooms_of[cable.id] if room not in bored]:
            yield from here.cable(cable, asked, rooms)
    yield from here.looks()


def _unseen(name: str, value: float) -> Point:
    return Point(name, None, value, None)


def _points(hole: Hole, values: Mapping[str, float]) -> Iterator[Point]:
    size, member = hole.diameter_mm, hole.member_mm
    if hole.member is Member.JOIST:
        yield measure_at_most("joist_percent", part_of(size, member), values["joist_percent"])
        yield at_least("joist_edge_mm", hole.edge_mm, values["joist_edge_mm"])
    elif hole.member is Member.STUD:
        yield from stud_points(size, member, _is_light(hole), values)
        if "stud_edge_mm" in values:
            yield at_least("stud_edge_mm", hole.edge_mm, values["stud_edge_mm"])
    elif hole.member is Member.PLATE and "plate_left_mm" in values and hole.bearing is not False:
        solid = at_least("plate_left_mm", left(size, member), values["plate_left_mm"])
        if solid.holds is False and hole.bearing is None:
            solid = Point("bearing", None, True, None, eyes=False)
        yield solid


def _is_light(hole: Hole) -> bool | None:
    """Whether its stud is doubled or bears nothing; None when that is not recorded."""
    if hole.doubled:
        return True
    if hole.bearing is None:
        return None
    return not hole.bearing
