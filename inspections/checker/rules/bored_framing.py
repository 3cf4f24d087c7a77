"""Holes bored in joists, studs and plates."""

from collections.abc import Iterator, Mapping

from config.messages.message import message
from inspections.checker.asking.cut_fixes import cut_fixes
from inspections.checker.asking.framing import (
    NOT_BY_EYE,
    CutFacts,
    cut_teller,
    left,
    part_of,
    stud_points,
)
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    at_least,
    at_most,
    judged,
    point_words,
    tapes,
)
from inspections.checker.asking.visual import Judged, PartKind, RoomFacts, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Hole, Member
from ..measures import Comparator
from ..site import HouseByCode

NAME = "bored-framing"
OF_JOIST = message(
    f"{NAME}.of-joist", "Hole {part} takes {figure} of the joist's depth; {limit} maximum."
)
TO_JOIST_EDGE = message(
    f"{NAME}.to-joist-edge", "Hole {part} is {figure} from the joist's edge; {limit} minimum."
)
OF_BEARING_STUD = message(
    f"{NAME}.of-bearing-stud",
    "Hole {part} takes {figure} of the stud; {limit} maximum in a bearing wall.",
)
OF_STUD = message(f"{NAME}.of-stud", "Hole {part} takes {figure} of the stud; {limit} maximum.")
TO_STUD_EDGE = message(
    f"{NAME}.to-stud-edge", "Hole {part} is {figure} from the stud's edge; {limit} minimum."
)
STUD_LEFT = message(
    f"{NAME}.stud-left", "Hole {part} leaves {figure} of the stud; {limit} minimum."
)
PLATE_LEFT = message(
    f"{NAME}.plate-left",
    "Hole {part} leaves {figure} of the plate; {limit} minimum in a bearing wall.",
)
SIZES = message(f"{NAME}.sizes", "the diameter of hole {part} and the depth it is bored in")
EDGE = message(f"{NAME}.edge", "how far hole {part} is from the edge")
REMEDY = message(
    f"{NAME}.remedy", "Have the framer reinforce it. Bore others smaller and nearer the middle."
)
BEARING = message(f"{NAME}.bearing", "whether hole {part} is in a bearing wall")
"""It is only ever missing: where it is recorded, it chooses among the others."""
WORDS = point_words(
    NAME,
    {
        "joist_percent": PointWords(
            wrong=OF_JOIST,
            ok=OF_JOIST,
            missing=SIZES,
            remedy=REMEDY,
            verify="Holes in joists: no wider than {limit} of the joist's depth.",
            way=Comparator.AT_MOST,
        ),
        "joist_edge_mm": PointWords(
            wrong=TO_JOIST_EDGE,
            ok=TO_JOIST_EDGE,
            missing=EDGE,
            remedy=REMEDY,
            verify="From the hole to the joist's edge: {limit} minimum.",
            tape="from the hole to the joist's edge",
            way=Comparator.AT_LEAST,
        ),
        "stud_bearing_percent": PointWords(
            wrong=OF_BEARING_STUD,
            ok=OF_BEARING_STUD,
            missing=SIZES,
            remedy=REMEDY,
            verify="Holes in bearing studs: no wider than {limit} of the stud.",
            way=Comparator.AT_MOST,
        ),
        "stud_other_percent": PointWords(
            wrong=OF_STUD,
            ok=OF_STUD,
            missing=SIZES,
            remedy=REMEDY,
            verify="Holes in doubled or non-bearing studs: no wider than {limit} of the stud.",
            way=Comparator.AT_MOST,
        ),
        "stud_edge_mm": PointWords(
            wrong=TO_STUD_EDGE,
            ok=TO_STUD_EDGE,
            missing=EDGE,
            remedy=REMEDY,
            verify="From the hole to the stud's edge: {limit} minimum.",
            tape="from the hole to the stud's edge",
            way=Comparator.AT_LEAST,
        ),
        "stud_left_mm": PointWords(
            wrong=STUD_LEFT,
            ok=STUD_LEFT,
            missing=SIZES,
            remedy=REMEDY,
            verify="Wood left beside a hole in a doubled or non-bearing stud: {limit} minimum.",
            tape="the wood left of a stud that carries no load",
            way=Comparator.AT_LEAST,
        ),
        "plate_left_mm": PointWords(
            wrong=PLATE_LEFT,
            ok=PLATE_LEFT,
            missing=SIZES,
            remedy=REMEDY,
            verify="In the plate of a bearing wall: {limit} of wood left, minimum.",
            tape="the wood left of the plate in a bearing wall",
            way=Comparator.AT_LEAST,
        ),
        "bearing": PointWords(
            wrong=BEARING,
            ok=BEARING,
            missing=BEARING,
            remedy=REMEDY,
        ),
    },
)


@rule(
    NAME,
    topic="cables",
    title="Holes in framing",
    tell=cut_teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "stud_edge_mm", "joist_edge_mm", "stud_left_mm", "plate_left_mm"),
    facts=CutFacts | RoomFacts,
    workmanship=True,
    fixes=cut_fixes("holes", "diameter_mm"),
)
def bored_framing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Holes for cables leave joists, studs and plates as strong as the building code requires.

    Engineered members are bored only as their maker lets it, and are left out here. A room in which
    cables end and no hole is recorded is verified by eye.
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
        yield from here.part(hole, PartKind.HOLE, _judged(hole, values))
    unseen = judged(PointsFacts("", _unseen(values)))
    for cable in site.house.cables:
        if rooms := [room for room in site.rooms_of[cable.id] if room not in bored]:
            yield from here.cable(cable, unseen, rooms)
    yield from here.rooms_to_verify()


def _unseen(values: Mapping[str, float]) -> tuple[Point, ...]:
    """What every hole is held to, where none is recorded."""
    points = []
    for name, value in values.items():
        points.append(Point(name, None, value, None))
    return tuple(points)


def _judged(hole: Hole, values: Mapping[str, float]) -> Judged:
    points = tuple(_points(hole, values))
    return judged(CutFacts(hole.id, points, hole.diameter_mm, hole.member_mm), NOT_BY_EYE)


def _points(hole: Hole, values: Mapping[str, float]) -> Iterator[Point]:
    size, member = hole.diameter_mm, hole.member_mm
    if hole.member is Member.JOIST:
        yield at_most("joist_percent", part_of(size, member), values["joist_percent"])
        yield at_least("joist_edge_mm", hole.edge_mm, values["joist_edge_mm"])
    elif hole.member is Member.STUD:
        yield from stud_points(size, member, _is_light(hole), values)
        if "stud_edge_mm" in values:
            yield at_least("stud_edge_mm", hole.edge_mm, values["stud_edge_mm"])
    elif hole.member is Member.PLATE and "plate_left_mm" in values and hole.bearing is not False:
        solid = at_least("plate_left_mm", left(size, member), values["plate_left_mm"])
        if solid.holds is False and hole.bearing is None:
            solid = Point("bearing", None, True, None)
        yield solid


def _is_light(hole: Hole) -> bool | None:
    """Whether the stud is doubled or bears nothing; None when that is not recorded."""
    if hole.doubled:
        return True
    if hole.bearing is None:
        return None
    return not hole.bearing
