"""Cables across the faces of joists and rafters in attics, crawl spaces and basements."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Message, Value, message
from inspections.checker.asking.fixing import done
from inspections.checker.asking.points import (
    DUST,
    Point,
    PointsFacts,
    at_most,
    is_so,
    judged,
)
from inspections.checker.asking.told_alone import (
    RoomCheck,
    found_in,
    limit_of,
    not_recorded,
    points_by_name,
    room_told,
)
from inspections.checker.asking.visual import Judged, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, CableKind, Crossing, Face
from ..house.gauges import KCMIL
from ..house.rooms import RoomKind
from ..measures import Comparator, Tape, point_limit
from ..site import HouseByCode

NAME = "exposed-cables"
KINDS = (CableKind.NM, CableKind.UF)
OPEN = frozenset({RoomKind.ATTIC, RoomKind.CRAWL_SPACE, RoomKind.BASEMENT})
BY_EYE_NOT = ("heavy", "stairs", "hatch_mm", "space_mm")
"""What eyes on the cable do not settle: where it is, and how heavy."""
BARE = message(f"{NAME}.bare", "Cable {cable} crosses the framing with no guard.")
GUARDED = message(f"{NAME}.guarded", "Cable {cable} is guarded where it crosses the framing.")
HEAVY = message(f"{NAME}.heavy", "Cable {cable} is {size}, heavy enough to need no guard.")
LOW = message(
    f"{NAME}.low", "The attic is {figure} high at cable {cable}; guard required over {limit}."
)
FAR = message(
    f"{NAME}.far", "Cable {cable} is {figure} from the hatch; guard required within {limit}."
)
GUARD = message(f"{NAME}.guard", "Add guard strips or a running board, or run it through holes.")
VERIFY_GUARDED = message(
    f"{NAME}.verify-guarded", "Cables across framing have guard strips or a running board."
)
NO_STAIRS = message(f"{NAME}.no-stairs", "no permanent stairs to the attic")
HATCH_LINE = message(f"{NAME}.hatch-line", "hatch {figure} away, guard within {limit}")
TAPE_SPACE = message(f"{NAME}.tape-space", "height between joists and rafters")
TAPE_HATCH = message(f"{NAME}.tape-hatch", "from the attic hatch")
MISSING: dict[str, Message] = {
    "space_mm": message(f"{NAME}.space-missing", "attic headroom at cable {part}"),
    "stairs": message(f"{NAME}.stairs-missing", "whether permanent stairs lead to the attic"),
    "hatch_mm": message(f"{NAME}.hatch-missing", "how far cable {part} is from the attic hatch"),
}


@dataclass(frozen=True, slots=True)
class ExposedCableFacts(PointsFacts):
    """A cable across framing: its guard, or what lets it be without one."""

    guarded: bool | None = None
    """Of a cable heavy enough: whether it is guarded all the same."""


def tell(finding: Finding) -> FindingWords:
    """Whether the cable is guarded, or why it need not be."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return room_told(facts, {"guarded": RoomCheck(VERIFY_GUARDED)})
    if finding.verdict is Verdict.INFO_NEEDED:
        return not_recorded(facts, MISSING)
    if finding.verdict is Verdict.NOT_TO_CODE:
        says = BARE(cable=facts.part)
        return FindingWords(says, working=(says,), remedy=GUARD())
    if "guarded" in points_by_name(facts):
        says = GUARDED(cable=facts.part)
        return FindingWords(says, working=(says,))
    return _tell_excused(facts)


def _tell_excused(facts: ExposedCableFacts) -> FindingWords:
    """By its size, or by where it is."""
    points = points_by_name(facts)
    if "heavy" in points:
        size = _size(str(points["heavy"].found))
        says = HEAVY(cable=facts.part, size=size)
        return FindingWords(says, size, working=(says,))
    if "space_mm" in points:
        figure, limit = _held(points["space_mm"], Comparator.AT_MOST)
        says = LOW(cable=facts.part, figure=figure, limit=limit)
        return FindingWords(says, figure, limit, (says,))
    figure, limit = _held(points["hatch_mm"], Comparator.AT_LEAST)
    says = FAR(cable=facts.part, figure=figure, limit=limit)
    away = HATCH_LINE(figure=figure, limit=limit)
    return FindingWords(says, figure, limit, (NO_STAIRS(), away))


def _held(point: Point, way: Comparator) -> tuple[Value, Value]:
    """A figure and its limit."""
    return found_in(point, way), limit_of(point, way)


def _size(awg: str) -> str:
    if awg in KCMIL:
        return f"{awg} kcmil"
    return f"{awg} AWG"


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A guard along it."""
    facts = finding.facts
    for each in house.crossings:
        if (each.cable, each.room) == (getattr(facts, "part", ""), finding.spot.room):
            yield done(("crossings", f"{each.cable} {each.face.value} {each.room}", "guarded"))


@rule(
    NAME,
    topic="cables",
    title="Cables in attics and crawl spaces",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(
        Tape(TAPE_SPACE, Comparator.AT_MOST, "space_mm", point_limit("space_mm")),
        Tape(TAPE_HATCH, Comparator.AT_LEAST, "hatch_mm", point_limit("hatch_mm")),
    ),
    facts=ExposedCableFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def exposed_cables(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A cable that crosses the faces of joists or rafters is guarded where people may tread.

    In an attic that is required near the way in, or where there is room to move, as the code says;
    below joists everywhere, but for cables heavy enough where the code lets those be. In an
    attic, crawl space or basement where cables end and no crossing is recorded, eyes decide.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    if not values.get("guarded"):
        return
    here = Round(this, site, limits)
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in KINDS}
    done: set[tuple[str, str]] = set()
    for crossing in site.house.crossings:
        cable = cables.get(crossing.cable)
        if cable is not None:
            done.add((cable.id, crossing.room))
            subject = here.numbered(f"{cable.id}/{crossing.room}")
            judgement = _judged(crossing, cable, values)
            yield from here.run(cable, crossing.room, judgement, subject)
    unseen = judged(ExposedCableFacts("", (is_so("guarded", None),)))
    yield from here.remaining(cables.values(), done, unseen, OPEN)
    yield from here.rooms_to_verify()


def _judged(crossing: Crossing, cable: Cable, values: dict[str, float]) -> Judged:
    guarded = is_so("guarded", crossing.guarded)
    by_guard = judged(ExposedCableFacts(cable.id, (guarded,)))
    if guarded.holds:
        return by_guard
    if crossing.face is Face.LOWER:
        if _is_heavy(cable, values):
            heavy = Point("heavy", cable.awg, None, True)
            return judged(ExposedCableFacts(cable.id, (heavy,), crossing.guarded))
        return by_guard
    excuse = _excuse(crossing, values)
    if all(point.holds for point in excuse):
        return judged(ExposedCableFacts(cable.id, excuse))
    refuted = any(point.holds is False for point in excuse)
    if guarded.holds is None or refuted:
        return by_guard
    unknown = tuple(point for point in excuse if point.holds is None)
    return judged(ExposedCableFacts(cable.id, unknown), BY_EYE_NOT)


def _excuse(found: Crossing, values: dict[str, float]) -> tuple[Point, ...]:
    """What lets a cable on the upper faces of an attic's joists be without a guard."""
    if (most := values.get("space_mm")) is not None:
        return (at_most("space_mm", found.space_mm, most),)
    far, hatch = found.hatch_mm, values["hatch_mm"]
    holds = None
    if far is not None:
        holds = far > hatch + DUST
    return (is_so("stairs", found.stairs, False), Point("hatch_mm", far, hatch, holds))


def _is_heavy(cable: Cable, values: dict[str, float]) -> bool:
    """Whether it is so heavy that the code lets it cross the lower faces of joists."""
    most = values.get("heavy_two_awg" if cable.insulated < 3 else "heavy_three_awg")
    size = cable.awg or ""
    number = 0
    if size.isdigit():
        number = int(size)
    kcmil = number >= 250
    return most is not None and bool(size) and (kcmil or number <= most)
