"""Cables across the faces of joists and rafters in attics, crawl spaces and basements."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Message, message
from config.messages.values import Listed, Value
from inspections.checker.asking.points import (
    DUST,
    NOT_RECORDED,
    RECORD,
    STILL_MISSING,
    Point,
    PointsFacts,
    at_most,
    is_so,
    judged,
)
from inspections.checker.asking.told_alone import (
    RoomCheck,
    by_name,
    found_in,
    limit_of,
    missing_of,
    room_told,
)
from inspections.checker.asking.visual import Judged, RoomFacts, Round

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..gauges import KCMIL
from ..house.cables import Cable, CableKind, Crossing, Face
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
CROSSING_LINE = message(f"{NAME}.crossing-line", "cable {cable} across the faces of framing")
NO_STAIRS = message(f"{NAME}.no-stairs", "no permanent stairs to the attic")
HATCH_LINE = message(f"{NAME}.hatch-line", "hatch {figure} away, guard within {limit}")
SPACE_LINE = message(f"{NAME}.space-line", "headroom {figure}, guard over {limit}")
TAPE_SPACE = message(f"{NAME}.tape-space", "height between joists and rafters")
TAPE_HATCH = message(f"{NAME}.tape-hatch", "from the attic hatch")
MISSING: dict[str, Message] = {
    "space_mm": message(f"{NAME}.space-missing", "attic headroom at the cable"),
    "stairs": message(f"{NAME}.stairs-missing", "whether permanent stairs lead to the attic"),
    "hatch_mm": message(f"{NAME}.hatch-missing", "distance to the attic hatch"),
}
WAYS = {"space_mm": Comparator.AT_MOST, "hatch_mm": Comparator.AT_LEAST}
EXCUSED = {"space_mm": (LOW, SPACE_LINE), "hatch_mm": (FAR, HATCH_LINE)}
"""What lets a cable be without a guard, said and in the working."""


@dataclass(frozen=True, slots=True)
class CrossingFaceFacts(PointsFacts):
    """A cable across framing: its guard, or what lets it be without one."""

    guarded: bool | None = None
    """Of a cable heavy enough: whether it is guarded all the same."""


def tell(finding: Finding) -> FindingWords:
    """Whether the cable is guarded, or why it need not be."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return room_told(facts, {"guarded": RoomCheck(VERIFY_GUARDED)})
    if finding.verdict is Verdict.UNKNOWN:
        missing = Listed(missing_of(facts.points, MISSING))
        return FindingWords(
            NOT_RECORDED(what=missing), working=(STILL_MISSING(what=missing),), remedy=RECORD()
        )
    cable: str = facts.part
    crossing = (CROSSING_LINE(cable=cable),)
    if finding.verdict is Verdict.SHORT:
        return FindingWords(BARE(cable=cable), working=crossing, remedy=GUARD())
    points = by_name(facts)
    if "guarded" in points:
        return FindingWords(GUARDED(cable=cable), working=crossing)
    if "heavy" in points:
        size = _size(str(points["heavy"].found))
        return FindingWords(HEAVY(cable=cable, size=size), size, working=crossing)
    return _tell_excused(facts, facts.points[-1])


def _size(awg: str) -> str:
    if awg in KCMIL:
        return f"{awg} kcmil"
    return f"{awg} AWG"


def _tell_excused(facts: CrossingFaceFacts, point: Point) -> FindingWords:
    """By a distance or height that lets the cable be without a guard."""
    figure, limit = found_in(point, WAYS[point.name]), limit_of(point, WAYS[point.name])
    sentence, line = EXCUSED[point.name]
    working: list[Value] = []
    if "stairs" in by_name(facts):
        working.append(NO_STAIRS())
    working.append(line(figure=figure, limit=limit))
    says = sentence(cable=facts.part, figure=figure, limit=limit)
    return FindingWords(says, figure, limit, tuple(working))


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
    facts=CrossingFaceFacts | RoomFacts,
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
    unseen = judged(CrossingFaceFacts("", (is_so("guarded", None),)))
    yield from here.remaining(cables.values(), done, unseen, OPEN)
    yield from here.rooms_to_verify()


def _judged(crossing: Crossing, cable: Cable, values: dict[str, float]) -> Judged:
    guarded = is_so("guarded", crossing.guarded)
    by_guard = judged(CrossingFaceFacts(cable.id, (guarded,)))
    if guarded.holds:
        return by_guard
    if crossing.face is Face.LOWER:
        if _is_heavy(cable, values):
            heavy = Point("heavy", cable.awg, None, True)
            return judged(CrossingFaceFacts(cable.id, (heavy,), crossing.guarded))
        return by_guard
    excuse = _excuse(crossing, values)
    if all(point.holds for point in excuse):
        return judged(CrossingFaceFacts(cable.id, excuse))
    refuted = any(point.holds is False for point in excuse)
    if guarded.holds is None or refuted:
        return by_guard
    unknown = tuple(point for point in excuse if point.holds is None)
    return judged(CrossingFaceFacts(cable.id, unknown), BY_EYE_NOT)


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
