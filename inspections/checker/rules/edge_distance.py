"""Cables kept from the edge of framing, or guarded by a plate."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Length, Rounding, Text, message
from inspections.checker.asking.fixing import figure, limit_in
from inspections.checker.asking.points import EITHER_WAY, Point, PointsFacts, at_least, judged
from inspections.checker.asking.told_alone import (
    RoomCheck,
    found_in,
    limit_of,
    points_by_name,
    room_told,
)
from inspections.checker.asking.visual import Judged, PartKind, RoomFacts, Round, part_text
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, CableKind, Hole
from ..measures import Comparator, Tape, point_limit
from ..site import HouseByCode

NAME = "edge-distance"
GUARDED = (CableKind.NM, CableKind.UF, CableKind.AC, CableKind.MC)
WAY = Comparator.AT_LEAST
EDGE = message(f"{NAME}.edge", "{figure} from {part} to the edge of the framing; {limit} minimum.")
PLATED = message(f"{NAME}.plated", "A steel plate guards {part}; {limit} thick minimum.")
NO_PLATE = message(f"{NAME}.no-plate", "No plate of {limit} or thicker over {part}.")
PLATE_OR_MOVE = message(
    f"{NAME}.plate-or-move", "Install a {limit} steel plate, or move the cable back."
)
INSTALL = message(f"{NAME}.install", "Install a steel plate.")
VERIFY_EDGE = message(
    f"{NAME}.verify-edge", "Cables run {limit} or more back from the edge, or behind plates."
)
VERIFY_PLATE = message(
    f"{NAME}.verify-plate", "Notches, and cables near edges, have steel plates {limit} or thicker."
)
EDGE_LINE = message(f"{NAME}.edge-line", "edge distance {figure}")
EDGE_MISSING = message(f"{NAME}.edge-missing", "edge distance")
PLATE_LINE = message(f"{NAME}.plate-line", "plate {limit} or thicker")
THIN_LINE = message(f"{NAME}.thin-line", "plate thinner than {limit}")
NONE_LINE = message(f"{NAME}.none-line", "no plate")
TAPE_EDGE = message(f"{NAME}.tape-edge", "from the edge of framing, with no plate")
TAPE_PLATE = message(f"{NAME}.tape-plate", "thickness of the steel plate")
CHECKS = {
    "edge_mm": RoomCheck(VERIFY_EDGE, WAY),
    "plate_mm": RoomCheck(VERIFY_PLATE, WAY),
}


@dataclass(frozen=True, slots=True)
class EdgeDistanceFacts(PointsFacts):
    """What is near the edge: its distance, its plate, or both, whichever decides."""

    kind: PartKind
    edge_mm: float | None = None
    """The distance where the plate decides."""


def tell(finding: Finding) -> FindingWords:
    """How far the cable is from the edge, or what guards it."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return room_told(facts, CHECKS)
    points = points_by_name(facts)
    part = part_text(facts.kind, facts.part)
    edge, plate = points.get("edge_mm"), points.get("plate_mm")
    if edge is not None:
        return _tell_edge(part, edge, plate)
    return _tell_plate(part, facts, points["plate_mm"], finding.verdict)


def _tell_edge(part: Text, edge: Point, plate: Point | None) -> FindingWords:
    """By its distance; a plate beside it does not do."""
    figure, limit = found_in(edge, WAY), limit_of(edge, WAY)
    says = EDGE(part=part, figure=figure, limit=limit)
    line = EDGE_LINE(figure=figure)
    if plate is None:
        return FindingWords(says, figure, limit, (line,))
    remedy = PLATE_OR_MOVE(limit=limit_of(plate, WAY))
    return FindingWords(says, figure, limit, (line, _plate_line(plate)), remedy)


def _tell_plate(
    part: Text, facts: EdgeDistanceFacts, plate: Point, verdict: Verdict
) -> FindingWords:
    """By its plate: where it is near the edge, or in a notch."""
    limit = limit_of(plate, WAY)
    working = [_plate_line(plate)]
    if facts.kind is not PartKind.NOTCH:
        working.insert(0, _edge_line(facts.edge_mm))
    if verdict is Verdict.OK:
        return FindingWords(PLATED(part=part, limit=limit), "", limit, tuple(working))
    says = NO_PLATE(part=part, limit=limit)
    return FindingWords(says, "", limit, tuple(working), INSTALL())


def _edge_line(edge_mm: float | None) -> Text:
    """A distance that is too little, since the plate decides."""
    if edge_mm is None:
        return EITHER_WAY(what=EDGE_MISSING())
    return EDGE_LINE(figure=Length(edge_mm, Rounding.DOWN))


def _plate_line(plate: Point) -> Text:
    """A plate against its limit: no tape shows how thin a thin one is."""
    if plate.holds:
        return PLATE_LINE(limit=limit_of(plate, WAY))
    if plate.found:
        return THIN_LINE(limit=limit_of(plate, WAY))
    return NONE_LINE()


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """Farther from the edge, or a steel plate."""
    facts = finding.facts
    if not isinstance(facts, EdgeDistanceFacts):
        return
    among = {PartKind.HOLE: "holes", PartKind.NOTCH: "notches"}.get(facts.kind, "cables")
    for point in facts.points:
        if not point.holds:
            yield figure((among, facts.part, point.name), limit_in(point), taped=True)


@rule(
    NAME,
    topic="cables",
    title="Cables clear of the edge of framing",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(
        Tape(TAPE_EDGE, WAY, "edge_mm", point_limit("edge_mm")),
        Tape(TAPE_PLATE, WAY, "plate_mm", point_limit("plate_mm")),
    ),
    facts=EdgeDistanceFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def edge_distance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A cable in or along framing is far enough from its edge that screws and nails miss it.

    Where it cannot be, a steel plate guards it. A notch always takes a plate.
    """
    book = site.rulebook
    if f"{NAME}.edge_mm" not in book:
        return
    limits = (book[f"{NAME}.edge_mm"], book[f"{NAME}.plate_mm"])
    clear, thick = limits[0].value, limits[1].value

    here = Round(this, site, limits)
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in GUARDED}
    for hole in site.house.holes:
        if cables.keys() & set(hole.cables):
            found = _judged(hole, PartKind.HOLE, clear, thick)
            yield from here.part(hole, PartKind.HOLE, found, "hole/")
    for notch in site.house.notches:
        if cables.keys() & set(notch.cables):
            guard = at_least("plate_mm", notch.plate_mm, thick)
            found = judged(EdgeDistanceFacts(notch.id, (guard,), PartKind.NOTCH))
            yield from here.part(notch, PartKind.NOTCH, found, "notch/")
    for cable in cables.values():
        yield from here.cable(cable, _judged(cable, PartKind.CABLE, clear, thick))
    yield from here.rooms_to_verify()


def _judged(where: Cable | Hole, kind: PartKind, clear: float, thick: float) -> Judged:
    """A cable along framing, or one through a hole, by its distance and then by its plate."""
    far = at_least("edge_mm", where.edge_mm, clear)
    guard = at_least("plate_mm", where.plate_mm, thick)
    if far.holds or (far.holds is None and not guard.holds):
        return judged(EdgeDistanceFacts(where.id, (far,), kind))
    if guard.holds or guard.holds is None:
        return judged(EdgeDistanceFacts(where.id, (guard,), kind, where.edge_mm))
    return judged(EdgeDistanceFacts(where.id, (far, guard), kind))
