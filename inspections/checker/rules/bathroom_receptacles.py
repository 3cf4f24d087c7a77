"""A receptacle near the sink of each bathroom."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from config.messages.message import Length, Listed, Rounding, Value, message
from inspections.checker.asking.fixing import added_receptacle, moved, room_named
from inspections.checker.asking.fixtures import (
    Apart,
    PlaceFact,
    PlaceLacking,
    apart,
    fixture_words,
    place_words,
)
from inspections.checker.asking.house_uses import beside_fixture
from inspections.checker.asking.line_sentences import missing_lines
from inspections.checker.asking.lines import in_order
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.asking.receptacles import for_general_use
from inspections.checker.asking.unrecorded import Absent, Unrecorded, unrecorded_words
from inspections.checker.asking.visual import natural
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, OnCounter, OnWall
from ..house.fixtures import Fixture, FixtureKind
from ..house.rooms import Room
from ..measures import Comparator, Tape, held_in
from ..rulebook import Rulebook
from ..site import HouseByCode

NAME = "bathroom-receptacles"


NEAR = message(f"{NAME}.near", "Receptacle {box} is {figure} from sink {sink}; {limit} maximum.")
TOO_FAR = message(
    f"{NAME}.too-far", "The nearest receptacle is {figure} from sink {sink}; {limit} maximum."
)
NONE = message(f"{NAME}.none", "No receptacle within {limit} of {sinks}.")
LOW = message(
    f"{NAME}.low", "Receptacle {box} is {figure} below the top of sink {sink}; {limit} maximum."
)
ROUND = message(
    f"{NAME}.round", "Receptacle {box} is within {limit} of sink {sink} around the wall."
)
SINKS = message(f"{NAME}.sinks", "sinks {sinks}", one="sink {sinks}")
TAPE = message(f"{NAME}.within.tape", "from the sink to the receptacle")
ADD = message(f"{NAME}.add", "Add or move one beside the sink.")
RAISE = message(f"{NAME}.raise", "Raise it, or add one higher.")
MEASURE = message(f"{NAME}.measure", "Measure as a cord runs, not through the wall.")
NO_GENERAL = message(f"{NAME}.no-general", "No receptacle for general use in this room.")
AT = message(f"{NAME}.at", "Receptacle {box}: {figure} from sink {sink}.")
OUT = message(f"{NAME}.out", "Receptacle {box}: {figure} from sink {sink}, too far.")
BELOW = message(f"{NAME}.below", "Receptacle {box}: {figure} below sink {sink}, too low to count.")
THROUGH = message(
    f"{NAME}.through", "Receptacle {box}: {figure} from sink {sink} straight through a wall."
)


@dataclass(frozen=True, slots=True)
class FromSink:
    """A receptacle and how far it is from a sink."""

    box: str
    sink: str
    distance_mm: float


@dataclass(frozen=True, slots=True)
class BelowSink:
    """A receptacle that is too far below the top of a sink."""

    box: str
    sink: str
    below_mm: float


@dataclass(frozen=True, slots=True)
class SinkFacts:
    """Sinks that one receptacle may serve, and how each receptacle stands to them."""

    sinks: frozenset[str]
    within_mm: float
    below_mm: float | None
    """How far below a sink's top one may be, where the code says so."""
    near: frozenset[FromSink]
    out: frozenset[FromSink]
    low: frozenset[BelowSink]
    through_wall: frozenset[FromSink]
    missing: frozenset[PlaceLacking]


def tell(finding: Finding) -> FindingWords:
    """The sink, the receptacles and how far they are from it."""
    if isinstance(finding.facts, Unrecorded):
        return unrecorded_words(finding.facts)
    facts: SinkFacts = finding.facts
    limit = Length(facts.within_mm, Rounding.DOWN)
    missing = place_words(facts.missing)
    decides = finding.verdict is Verdict.INFO_NEEDED
    working = (*_working(facts), *missing_lines(missing, decides))
    if decides:
        return FindingWords(parts_not_recorded(missing), "", limit, working, RECORD())
    if finding.verdict is Verdict.NOT_TO_CODE:
        return _tell_short(facts, limit, working)
    if finding.verdict is Verdict.VERIFY:
        nearest = _nearest(facts.through_wall)
        says = ROUND(box=nearest.box, sink=nearest.sink, limit=limit)
        return FindingWords(says, "", limit, working, MEASURE())
    nearest = _nearest(facts.near)
    figure = Length(nearest.distance_mm, Rounding.DOWN)
    says = NEAR(box=nearest.box, sink=nearest.sink, figure=figure, limit=limit)
    return FindingWords(says, figure, limit, working)


def _tell_short(facts: SinkFacts, limit: Length, working: tuple[Value, ...]) -> FindingWords:
    if facts.low and facts.below_mm is not None:
        low = min(facts.low, key=lambda each: (each.below_mm, each.box))
        figure, limit = Length(low.below_mm, Rounding.UP), Length(facts.below_mm, Rounding.DOWN)
        says = LOW(box=low.box, sink=low.sink, figure=figure, limit=limit)
        return FindingWords(says, figure, limit, working, RAISE())
    if facts.out:
        far = _nearest(facts.out)
        figure = Length(far.distance_mm, Rounding.UP)
        says = TOO_FAR(sink=far.sink, figure=figure, limit=limit)
        return FindingWords(says, figure, limit, working, ADD())
    names = in_order(facts.sinks)
    sinks = SINKS(n=len(names), sinks=Listed(tuple(names)))
    says = NONE(limit=limit, sinks=sinks)
    return FindingWords(says, "", limit, working, ADD())


def _nearest(receptacles: Collection[FromSink]) -> FromSink:
    return min(receptacles, key=lambda each: (each.distance_mm, each.box, each.sink))


def _working(facts: SinkFacts) -> Iterator[Value]:
    if not (facts.near or facts.out or facts.low or facts.through_wall or facts.missing):
        yield NO_GENERAL()
    sides = ((AT, facts.near), (OUT, facts.out), (THROUGH, facts.through_wall))
    for words, receptacles in sides:
        rounding = Rounding.UP if words is OUT else Rounding.DOWN
        for each in sorted(receptacles, key=lambda each: (natural(each.box), natural(each.sink))):
            figure = Length(each.distance_mm, rounding)
            yield words(box=each.box, figure=figure, sink=each.sink)
    for low in sorted(facts.low, key=lambda each: (natural(each.box), natural(each.sink))):
        yield BELOW(box=low.box, figure=Length(low.below_mm, Rounding.UP), sink=low.sink)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """One that is too far moved nearer; or one more, beside the sink."""
    facts = finding.facts
    if not isinstance(facts, SinkFacts):
        return
    room = room_named(house, finding.spot.room)
    for fixture in room.fixtures or ():
        place = beside_fixture(room, fixture)
        if fixture.id not in facts.sinks or place is None:
            continue
        for each in sorted(facts.out, key=lambda each: each.distance_mm)[:1]:
            yield moved(each.box, place)
        yield added_receptacle(house, place, room.id)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles at bathroom sinks",
    tell=tell,
    scope=Scope.ROOM,
    facts=SinkFacts | Unrecorded,
    tapes=(Tape(TAPE, Comparator.AT_MOST, "within_mm", held_in("within_mm")),),
    fixes=_fixes,
)
def bathroom_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A bathroom or washroom with a basin has a receptacle near it.

    One code requires one near each basin and not too far below its top, another one near any of
    them. Distances are measured on the plan from the basin's outer edge.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room in site.house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        if room.fixtures is None:
            limits = (book[f"{NAME}.within_mm"],)
            facts = Unrecorded(Absent.FIXTURES)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, site.room_spot(room), facts, limits)
            continue
        for group in _groups(book, room.fixtures):
            yield _group(this, site, room, group)


def _groups(book: Rulebook, fixtures: Sequence[Fixture]) -> list[list[Fixture]]:
    """The basins that one receptacle may serve together: each by itself, or all of them."""
    basins = []
    for fixture in fixtures:
        if fixture.kind is FixtureKind.BASIN:
            basins.append(fixture)
    if not basins:
        return []
    if not book.value(f"{NAME}.each_basin"):
        return [basins]
    groups = []
    for basin in basins:
        groups.append([basin])
    return groups


def _group(this: Rule, site: HouseByCode, room: Room, basins: Sequence[Fixture]) -> Finding:
    """Whether a receptacle serves any basin of the group."""
    book = site.rulebook
    facts = _figures(site, room, basins)
    verdict = Verdict.NOT_TO_CODE
    if facts.near:
        verdict = Verdict.OK
    elif facts.missing:
        verdict = Verdict.INFO_NEEDED
    elif facts.through_wall:
        verdict = Verdict.VERIFY
    subject = room.id
    if len(basins) == 1 and book.value(f"{NAME}.each_basin"):
        subject = f"{room.id}/{basins[0].id}"
    limits = []
    for name in ("within_mm", "each_basin", "below_mm"):
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    spot = fixture_words(site, room, basins[0])
    return Finding(this, subject, verdict, spot, facts, tuple(limits))


class _Round:
    """Every receptacle of the room by how it stands to each sink."""

    def __init__(self, book: Rulebook) -> None:
        self.book = book
        self.within: float = book.value(f"{NAME}.within_mm")
        self.near: set[FromSink] = set()
        self.out: set[FromSink] = set()
        self.low: set[BelowSink] = set()
        self.through_wall: set[FromSink] = set()
        self.missing: set[PlaceLacking] = set()

    def add(self, box: Box, basin: Fixture, found: Apart) -> None:
        """Put the receptacle where it belongs: near, out, too low, behind a wall, or missing."""
        if found.distance_mm is None:
            self.missing |= set(found.missing)
            return
        placed = FromSink(box.id, basin.id, round(found.distance_mm, 3))
        if found.distance_mm > self.within + EPSILON:
            self.out.add(placed)
            return
        below = _below(self.book, box, basin)
        if isinstance(below, PlaceLacking):
            self.missing.add(below)
        elif below is not None:
            self.low.add(BelowSink(box.id, basin.id, below))
        elif found.walled_off:
            self.through_wall.add(placed)
        else:
            self.near.add(placed)


def _figures(site: HouseByCode, room: Room, basins: Sequence[Fixture]) -> SinkFacts:
    here = _Round(site.rulebook)
    for box in site.receptacles_in[room.id]:
        if for_general_use(box):
            for basin in basins:
                here.add(box, basin, apart(site, room, box, basin))
    return SinkFacts(
        frozenset(basin.id for basin in basins),
        here.within,
        site.rulebook.value(f"{NAME}.below_mm"),
        frozenset(here.near),
        frozenset(here.out),
        frozenset(here.low),
        frozenset(here.through_wall),
        frozenset(here.missing),
    )


def _below(book: Rulebook, box: Box, basin: Fixture) -> float | PlaceLacking | None:
    """How far below the sink's top it is, when that is too far; or what is missing to say."""
    limit, place = book.value(f"{NAME}.below_mm"), box.place
    if limit is None or isinstance(place, OnCounter):
        return None
    height: float | None = 0.0
    if isinstance(place, OnWall):
        height = place.height_mm
    if height is None:
        return PlaceLacking(PlaceFact.HEIGHT, box.id)
    if basin.top_mm is None:
        return PlaceLacking(PlaceFact.TOP, basin.id, basin.kind)
    below = basin.top_mm - height
    if below > limit + EPSILON:
        return round(below, 3)
    return None
