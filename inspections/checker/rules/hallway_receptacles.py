"""Receptacles in hallways: one in a long hallway, or none too far from any point."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Length, Rounding, Text, Value, message
from inspections.checker.asking.coverage import LeftOutWhy
from inspections.checker.asking.line_sentences import missing_lines
from inspections.checker.asking.lines import HEIGHT, of_boxes
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.asking.receptacles import count_at_most, for_general_use
from inspections.checker.asking.unrecorded import Absent, Unrecorded, unrecorded_words
from inspections.checker.asking.visual import natural
from inspections.checker.geometry.hallways import Hallway

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import OnWall
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode

NAME = "hallway-receptacles"


HAS = message(
    f"{NAME}.has",
    "{n} receptacles in this hallway; 1 required.",
    one="{n} receptacle in this hallway; 1 required.",
)
NONE = message(
    f"{NAME}.none", "This hallway is {figure} long and has no receptacle; 1 required from {limit}."
)
NONE_LEAST = message(
    f"{NAME}.none-least",
    "This hallway is {figure} or longer and has no receptacle; 1 required from {limit}.",
)
BETWEEN = message(
    f"{NAME}.between",
    "This hallway is {least} to {most} long; 1 receptacle is required from {limit}.",
)
MEASURE = message(
    f"{NAME}.measure", "Measure along its middle line. Add a receptacle if it is that long."
)
LONG = message(f"{NAME}.length", "Length along its middle line: {figure}.")
LONG_BETWEEN = message(f"{NAME}.length-between", "Length along its middle line: {least} to {most}.")
ADD = message(f"{NAME}.add", "Add one.")
ADD_NEARER = message(f"{NAME}.add-nearer", "Add one closer to that part.")
REACHED = message(
    f"{NAME}.reached", "Every point of this hallway is within {limit} of a receptacle."
)
BEYOND = message(f"{NAME}.beyond", "Part of this hallway is more than {limit} from a receptacle.")
CORD = message(f"{NAME}.cord", "A {limit} cord reaches every point of this hallway.")
ROUND = message(
    f"{NAME}.round",
    "Measure around corners, not through doors. Add a receptacle where it falls short.",
)
PLACED = message(f"{NAME}.placed", "Receptacle {box}: wall {wall}, {at} from its left end.")
FAR = message(
    f"{NAME}.far", "More than {limit} away in a straight line: wall {wall}, {start} to {end}."
)


@dataclass(frozen=True, slots=True)
class HallwayLength:
    """How long a hallway is at least and at most, and the receptacles that count or may."""

    least_mm: float
    most_mm: float
    limit_mm: float
    counted: frozenset[str]
    height_missing: frozenset[str]


@dataclass(frozen=True, slots=True)
class HallReceptacle:
    """A receptacle on a wall of the hallway."""

    box: str
    wall: str
    at_mm: float


@dataclass(frozen=True, slots=True)
class FarStretch:
    """A stretch of wall that no receptacle reaches, from the wall's left end."""

    wall: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class HallwayReach:
    """The receptacles of a hallway, and what is farther from all of them than the reach."""

    reach_mm: float
    receptacles: frozenset[HallReceptacle]
    far: tuple[FarStretch, ...]


def tell(finding: Finding) -> FindingWords:
    """The hallway and its receptacles, as this code requires them."""
    match finding.facts:
        case Unrecorded() as facts:
            return unrecorded_words(facts)
        case HallwayLength() as facts:
            return _tell_long(finding.verdict, facts)
        case facts:
            return _tell_reach(finding.verdict, facts)


def _tell_long(verdict: Verdict, facts: HallwayLength) -> FindingWords:
    limit = Length(facts.limit_mm, Rounding.DOWN)
    least, most = Length(facts.least_mm, Rounding.DOWN), Length(facts.most_mm, Rounding.UP)
    missing = [HEIGHT(of_boxes=of_boxes(facts.height_missing))] if facts.height_missing else []
    line: Text = LONG_BETWEEN(least=least, most=most)
    if facts.least_mm == facts.most_mm:
        line = LONG(figure=Length(facts.least_mm))
    working = (line, *missing_lines(missing, verdict is Verdict.INFO_NEEDED))
    count = len(facts.counted)
    if verdict is Verdict.OK:
        return FindingWords(HAS(n=count), count, 1, working)
    if verdict is Verdict.INFO_NEEDED:
        return FindingWords(parts_not_recorded(missing), "", 1, working, RECORD())
    if verdict is Verdict.VERIFY:
        says = BETWEEN(least=least, most=most, limit=limit)
        return FindingWords(says, "", limit, working, MEASURE())
    says = NONE_LEAST if facts.least_mm < facts.most_mm else NONE
    figure = Length(facts.least_mm, Rounding.UP)
    return FindingWords(says(figure=figure, limit=limit), 0, 1, working, ADD())


def _tell_reach(verdict: Verdict, facts: HallwayReach) -> FindingWords:
    limit = Length(facts.reach_mm, Rounding.DOWN)
    working: list[Value] = []
    for each in sorted(facts.receptacles, key=lambda each: natural(each.box)):
        working.append(PLACED(box=each.box, wall=each.wall, at=Length(each.at_mm)))
    for far in facts.far:
        start, end = Length(far.from_mm), Length(far.to_mm, Rounding.UP)
        working.append(FAR(limit=limit, wall=far.wall, start=start, end=end))
    if verdict is Verdict.OK:
        return FindingWords(REACHED(limit=limit), "", limit, tuple(working))
    if verdict is Verdict.NOT_TO_CODE:
        return FindingWords(BEYOND(limit=limit), "", limit, tuple(working), ADD_NEARER())
    return FindingWords(CORD(limit=limit), "", limit, tuple(working), ROUND())


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in hallways",
    tell=tell,
    scope=Scope.ROOM,
    facts=HallwayLength | HallwayReach | Unrecorded,
)
def hallway_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A hallway of some length has a receptacle, or no point of it is too far from one.

    One code requires a receptacle from a certain length up, measured along the middle; another that
    none of its points is farther from a receptacle than a cord runs, not through a door.
    """
    book = site.rulebook
    limit = book.get(f"{NAME}.length_mm") or book.get(f"{NAME}.reach_mm")
    if limit is None:
        return
    for room in site.house.rooms:
        if room.kind is not RoomKind.HALLWAY:
            continue
        spot = site.room_spot(room)
        if not room.walls:
            facts = Unrecorded(Absent.WALLS)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, spot, facts, (limit,))
        elif limit.name.endswith("length_mm"):
            if long := _long(site, room, limit.value):
                yield Finding(this, room.id, long[0], spot, long[1], (limit,))
        else:
            verdict, reached = _reached(site, room, limit.value)
            yield Finding(this, room.id, verdict, spot, reached, (limit,))


def _long(site: HouseByCode, room: Room, limit: float) -> tuple[Verdict, HallwayLength] | None:
    """Whether it has one, if it is long enough to need one; None when it needs none."""
    least, most = Hallway(room, site.lines[room.id]).lengths()
    highest = site.rulebook.value("wall-receptacles.max_height_mm")
    counted: dict[bool | None, set[str]] = {True: set(), None: set(), False: set()}
    for box in site.receptacles_in[room.id]:
        if for_general_use(box):
            height: float | None = 0.0
            if isinstance(box.place, OnWall):
                height = box.place.height_mm
            counted[count_at_most(height, highest, LeftOutWhy.HIGH)[0]].add(box.id)
    facts = HallwayLength(least, most, limit, frozenset(counted[True]), frozenset(counted[None]))
    if counted[True]:
        return Verdict.OK, facts
    if most < limit:
        return None
    if counted[None]:
        return Verdict.INFO_NEEDED, facts
    return (Verdict.NOT_TO_CODE if least >= limit else Verdict.VERIFY), facts


def _reached(site: HouseByCode, room: Room, reach: float) -> tuple[Verdict, HallwayReach]:
    hallway = Hallway(room, site.lines[room.id])
    receptacles = set()
    points = []
    for box in site.receptacles_in[room.id]:
        if for_general_use(box) and isinstance(box.place, OnWall):
            receptacles.add(HallReceptacle(box.id, box.place.wall, box.place.at_mm))
            points.append((box.place.wall, box.place.at_mm))
    far = []
    for wall, start, end in hallway.farther_than(reach, points):
        far.append(FarStretch(wall, start, end))
    facts = HallwayReach(reach, frozenset(receptacles), tuple(far))
    if far:
        return (Verdict.VERIFY if hallway.opens_up() else Verdict.NOT_TO_CODE), facts
    return (Verdict.OK if hallway.convex() else Verdict.VERIFY), facts
