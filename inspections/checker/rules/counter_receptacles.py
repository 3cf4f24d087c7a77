"""Receptacles along kitchen counters, and at islands and peninsulas."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import Length, Rounding, Text, message
from inspections.checker.asking.counter_fixes import counter_fixes
from inspections.checker.asking.counters import NAME, CounterLine
from inspections.checker.asking.coverage import (
    Lack,
    Lacking,
    LeftOutWhy,
    LineFacts,
    LineReceptacle,
    counted_of,
    judge,
    lacking_of,
    left_out_of,
    space_figures,
)
from inspections.checker.asking.fixing import added_receptacle, done, moved
from inspections.checker.asking.house_uses import at_island
from inspections.checker.asking.island_words import tell_island
from inspections.checker.asking.islands import IslandFacts, at_outer_end, required_range, serving
from inspections.checker.asking.line_sentences import LineWords, tell_line
from inspections.checker.asking.points import NOT_RECORDED, STILL_MISSING
from inspections.checker.asking.unrecorded import Absent, Unrecorded, unrecorded_words
from inspections.checker.geometry.floor_line import Space
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.geometry.wall_parts import walls_behind
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Counter, CounterKind, Interruption, Room, RoomKind
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode
from ..spot import ALONG_COUNTER, COUNTER, ISLAND, PENINSULA

ALONG = ("reach_mm", "min_width_mm", "max_above_mm", "behind_mm", "behind_corner_mm", "face_up")
BY_KIND = {
    CounterKind.WALL: COUNTER,
    CounterKind.ISLAND: ISLAND,
    CounterKind.PENINSULA: PENINSULA,
}
FREE = (
    *("free_long_mm", "free_short_mm", "first_m2", "more_m2", "outer_end_mm", "provision"),
    *("max_above_mm", "below_mm", "overhang_mm", "face_up"),
)


WORDS = LineWords(
    gap=message(
        f"{NAME}.gap",
        "{n} stretches of counter with no receptacle within {limit}; the longest is {figure}.",
        one="{figure} of counter with no receptacle within {limit}.",
    ),
    round_corner=message(
        f"{NAME}.round-corner", "{figure} of counter with no receptacle within {limit}: {parts}."
    ),
    reached=message(
        f"{NAME}.reached", "Every point of this counter space is within {limit} of a receptacle."
    ),
    space=message(f"{NAME}.space", "Counter space: {figure} without a break."),
)
BEHIND = message(
    f"{NAME}.behind", "Receptacle {box} is {figure} behind the sink; more than {limit} required."
)
BEHIND_MISSING = message(f"{NAME}.behind.missing", "how far receptacle {box} is behind the sink")
BEHIND_MOVE = message(f"{NAME}.behind.remedy", "Move it to one side.")
BEHIND_RECORD = message(
    f"{NAME}.behind.record", "Measure from the wall to the inside edge of the sink, and record it."
)


@dataclass(frozen=True, slots=True)
class BehindSink:
    """A receptacle on the wall straight behind a sink."""

    box: str
    behind_mm: float | None
    limit_mm: float


def tell(finding: Finding) -> FindingWords:
    """A counter space, an island, a receptacle behind a sink, or a kitchen without counters."""
    match finding.facts:
        case Unrecorded() as facts:
            return unrecorded_words(facts)
        case BehindSink() as facts:
            return _tell_behind(finding.verdict, facts)
        case IslandFacts():
            return tell_island(finding)
        case _:
            return tell_line(finding, WORDS)


def _tell_behind(verdict: Verdict, facts: BehindSink) -> FindingWords:
    limit = Length(facts.limit_mm, Rounding.UP)
    if facts.behind_mm is None:
        missing = BEHIND_MISSING(box=facts.box)
        says = NOT_RECORDED(what=missing)
        return FindingWords(says, "", limit, (STILL_MISSING(what=missing),), BEHIND_RECORD())
    rounding, remedy = Rounding.DOWN, BEHIND_MOVE()
    if verdict is Verdict.OK:
        rounding = Rounding.UP
    figure = Length(facts.behind_mm, rounding)
    says = BEHIND(box=facts.box, figure=figure, limit=limit)
    return FindingWords(says, figure, limit, (says,), "" if verdict is Verdict.OK else remedy)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle in each stretch that none reaches; provision for one at an island."""
    facts = finding.facts
    if isinstance(facts, IslandFacts):
        counter = next(each for each in house.counters if each.id == finding.subject)
        yield added_receptacle(house, at_island(counter), counter.room)
        if any(limit.name == f"{NAME}.provision" for limit in finding.limits):
            yield done(("counters", counter.id, "provision"))
    elif isinstance(facts, BehindSink):
        yield moved(facts.box)
    elif isinstance(facts, LineFacts):
        yield from counter_fixes(finding, house)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles at counters",
    tell=tell,
    scope=Scope.ROOM,
    facts=LineFacts | BehindSink | IslandFacts | Unrecorded,
    fixes=_fixes,
)
def counter_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Along a wall counter no point may lie farther from a receptacle than the reach.

    Sinks, ranges and the like part a counter into spaces, unless enough work surface runs on behind
    them where the code counts it; the shortest spaces need none. A receptacle counts when it is
    above the top and no higher than the code allows; where the code keeps receptacles from behind
    sinks, one that is there is a finding of its own. Islands and peninsulas have rules of their
    own, by edition.
    """
    book = site.rulebook
    if f"{NAME}.reach_mm" not in book:
        return
    for room in site.house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        counters = site.counters_in[room.id]
        if room.kind is RoomKind.KITCHEN and not counters:
            limits = (book[f"{NAME}.reach_mm"],)
            facts = Unrecorded(Absent.COUNTERS)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, site.room_spot(room), facts, limits)
        for counter in counters:
            along = counter.kind is CounterKind.WALL
            yield from (_along if along else _free)(this, site, room, counter)


def _along(this: Rule, site: HouseByCode, room: Room, counter: Counter) -> Iterator[Finding]:
    book, line = site.rulebook, CounterLine(counter, site.rulebook)
    reach, least = book.value(f"{NAME}.reach_mm"), book.value(f"{NAME}.min_width_mm")
    outlets = list(line.outlets(site.receptacles_in[room.id]))
    unplaced = set()
    for outlet in outlets:
        if outlet.reason and outlet.reason[0] is LeftOutWhy.ALONG:
            unplaced.add(Lacking(Lack.ALONG, outlet.box))
    limits = _limits(book, ALONG)
    for space in line.spaces():
        if space.length < least - EPSILON:
            continue
        here = _outlets_in(space, outlets)
        verdict, gaps = judge(space, here, reach, least - EPSILON)
        facts = space_figures(space, here, gaps, reach, line.wall_at)
        facts = replace(facts, missing=facts.missing | unplaced)
        if verdict is Verdict.NOT_TO_CODE and unplaced:
            verdict = Verdict.INFO_NEEDED
        where, walls = _where(counter, space), walls_behind(counter)
        spot = site.wall_spot(room, facts.wall, facts.at_mm, *where, walls=walls)
        subject = f"{counter.id}.{space.number}"
        yield Finding(this, subject, verdict, spot, facts, limits)
    for outlet, sink in line.behind_sinks(outlets):
        yield from _behind(this, site, counter, outlet, sink)


def _where(counter: Counter, space: Space) -> list[Text]:
    """The counter, and how far along it the space starts where that is not its end."""
    parts = [COUNTER(counter=counter.id)]
    if space.start > EPSILON:
        parts.append(ALONG_COUNTER(length=Length(space.start)))
    return parts


def _outlets_in(space: Space, outlets: list[LineReceptacle]) -> list[LineReceptacle]:
    here = []
    for outlet in outlets:
        if space.start - EPSILON <= outlet.at <= space.end + EPSILON:
            here.append(outlet)
    return here


def _behind(
    this: Rule, site: HouseByCode, counter: Counter, outlet: LineReceptacle, sink: Interruption
) -> Iterator[Finding]:
    limit = site.rulebook.get(f"{NAME}.behind_sink_mm")
    if limit is None or (outlet.counts is False and outlet.reason != (LeftOutWhy.FACE_UP, None)):
        return
    behind = sink.behind_mm
    verdict = Verdict.INFO_NEEDED
    if behind is not None:
        verdict = Verdict.NOT_TO_CODE
        if behind > limit.value:
            verdict = Verdict.OK
    facts = BehindSink(outlet.box, behind, limit.value)
    spot = site.box_spot(site.boxes[outlet.box])
    yield Finding(this, f"{counter.id}/{outlet.box}", verdict, spot, facts, (limit,))


def _free(this: Rule, site: HouseByCode, room: Room, counter: Counter) -> Iterator[Finding]:
    book = site.rulebook
    least, most = required_range(counter, book)
    if most == 0:
        return
    outlets = list(serving(counter, site.receptacles_in[room.id], book))
    provided: bool | None = False
    if book.value(f"{NAME}.provision"):
        provided = counter.provision
    verdict = _served(site, counter, outlets, (least, most))
    if verdict is not Verdict.OK and provided is not False:
        verdict = Verdict.INFO_NEEDED
        if provided:
            verdict = Verdict.OK
    facts = _island(site, counter, outlets, (least, most), provided)
    spot = site.free_spot(room, BY_KIND[counter.kind](counter=counter.id))
    yield Finding(this, counter.id, verdict, spot, facts, _limits(book, FREE))


def _served(
    site: HouseByCode, counter: Counter, outlets: list[LineReceptacle], bounds: tuple[int, int]
) -> Verdict:
    least, most = bounds
    sure = possible = 0
    sure_at_end = possible_at_end = False
    for outlet in outlets:
        if outlet.counts is False:
            continue
        near = _at_end(site, counter, outlet)
        possible += 1
        possible_at_end |= near is not False
        if outlet.counts:
            sure += 1
            sure_at_end |= bool(near)
    if sure >= most and sure_at_end:
        return Verdict.OK
    if possible < least or (least and not possible_at_end):
        return Verdict.NOT_TO_CODE
    return Verdict.INFO_NEEDED


def _at_end(site: HouseByCode, counter: Counter, outlet: LineReceptacle) -> bool | None:
    if counter.kind is not CounterKind.PENINSULA:
        return True
    return at_outer_end(counter, site.boxes[outlet.box], site.rulebook)


def _island(
    site: HouseByCode,
    counter: Counter,
    outlets: list[LineReceptacle],
    required: tuple[int, int],
    provided: bool | None,
) -> IslandFacts:
    book = site.rulebook
    first = book.value(f"{NAME}.first_m2")
    area = None
    if first is not None and counter.length_mm and counter.depth_mm:
        area = round(counter.length_mm * counter.depth_mm / 1e6, 4)
    end = None
    if counter.kind is CounterKind.PENINSULA:
        end = book.value(f"{NAME}.outer_end_mm")
    return IslandFacts(
        counter.kind,
        counter.length_mm,
        counter.depth_mm,
        area,
        first,
        book.value(f"{NAME}.more_m2"),
        end,
        *required,
        counted_of(outlets, 0.0),
        left_out_of(outlets),
        lacking_of(outlets) | _unplaced(site, counter, outlets),
        provided,
    )


def _unplaced(
    site: HouseByCode, counter: Counter, outlets: list[LineReceptacle]
) -> frozenset[Lacking]:
    """Receptacles that count, and whose distance to the outer end is not recorded yet."""
    unplaced = set()
    for outlet in outlets:
        if outlet.counts and _at_end(site, counter, outlet) is None:
            unplaced.add(Lacking(Lack.ALONG, outlet.box))
    return frozenset(unplaced)


def _limits(book: Rulebook, names: tuple[str, ...]) -> tuple[Limit, ...]:
    limits = []
    for name in names:
        if limit := book.get(f"{NAME}.{name}"):
            limits.append(limit)
    return tuple(limits)
