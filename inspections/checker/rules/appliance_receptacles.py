"""A receptacle, or a cable of its own, at the place of each appliance."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import Length, Rounding, Text, Value, message
from inspections.checker.asking.counters import CounterLine
from inspections.checker.asking.fixing import moved, room_named
from inspections.checker.asking.fixtures import PlaceLacking, apart, fixture_words, place_words
from inspections.checker.asking.house_uses import beside_fixture, for_appliance
from inspections.checker.asking.line_sentences import missing_lines
from inspections.checker.asking.lines import receptacles
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.asking.receptacles import CALLED, for_general_use, kept_for
from inspections.checker.asking.visual import natural
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.fixtures import Fixture, FixtureKind
from ..house.nouns import noun
from ..house.rooms import CounterKind, InterruptionKind, Room
from ..rulebook import Rulebook
from ..site import HouseByCode

NAME = "appliance-receptacles"
OWN_ONLY = (FixtureKind.RANGE, FixtureKind.DRYER)
"""Appliances that no receptacle for general use serves."""
AT_COUNTER = {
    InterruptionKind.RANGE: FixtureKind.RANGE,
    InterruptionKind.REFRIGERATOR: FixtureKind.REFRIGERATOR,
}


SERVED = message(
    f"{NAME}.served",
    "The {kind} has {receptacles} within reach.",
)
WIRED = message(f"{NAME}.wired", "The {kind} is hardwired.")
NONE = message(f"{NAME}.none", "The {kind} has no receptacle; 1 required.")
NONE_WITHIN = message(f"{NAME}.none-within", "No receptacle within {limit} of the {kind}.")
TOO_FAR = message(
    f"{NAME}.too-far", "The nearest receptacle is {figure} from the {kind}; {limit} maximum."
)
ADD = message(f"{NAME}.add", "Add a receptacle within reach.")
ADD_OWN = message(f"{NAME}.add-own", "Install one for it alone, or hardwire it.")
OWN = message(f"{NAME}.own", "It needs its own receptacle, or to be hardwired.")
ANY = message(f"{NAME}.any", "A general-use receptacle will do.")
AWAY = message(f"{NAME}.away", "Receptacle {box}: {figure} away, too far.")


@dataclass(frozen=True, slots=True)
class FarReceptacle:
    """A receptacle that is too far from the appliance."""

    box: str
    distance_mm: float


@dataclass(frozen=True, slots=True)
class ApplianceFacts:
    """The place of an appliance, what serves it, what is too far, and what is missing."""

    kind: FixtureKind
    within_mm: float | None
    wired: frozenset[str]
    """Equipment of its name that is wired without a receptacle."""
    receptacles: frozenset[str]
    far: frozenset[FarReceptacle]
    missing: frozenset[PlaceLacking]


def tell(finding: Finding) -> FindingWords:
    """The appliance's place and what serves it."""
    facts: ApplianceFacts = finding.facts
    missing = place_words(facts.missing)
    working = (*_working(facts), *missing_lines(missing, decides=True))
    limit: Value = 1
    if facts.within_mm is not None:
        limit = Length(facts.within_mm, Rounding.DOWN)
    if finding.verdict is Verdict.INFO_NEEDED:
        return FindingWords(parts_not_recorded(missing), "", limit, working, RECORD())
    if finding.verdict is Verdict.NOT_TO_CODE:
        return _tell_short(facts, limit, working)
    kind = noun(facts.kind)
    says = WIRED(kind=kind)
    if facts.receptacles:
        says = SERVED(kind=kind, receptacles=receptacles(facts.receptacles))
    return FindingWords(says, "", limit, working)


def _tell_short(facts: ApplianceFacts, limit: Value, working: tuple[Value, ...]) -> FindingWords:
    kind = noun(facts.kind)
    remedy = ADD_OWN() if facts.kind in OWN_ONLY else ADD()
    if facts.within_mm is None:
        return FindingWords(NONE(kind=kind), 0, limit, working, remedy)
    if not facts.far:
        return FindingWords(NONE_WITHIN(kind=kind, limit=limit), "", limit, working, remedy)
    nearest = min(each.distance_mm for each in facts.far)
    figure = Length(nearest, Rounding.UP)
    says = TOO_FAR(kind=kind, figure=figure, limit=limit)
    return FindingWords(says, figure, limit, working, remedy)


def _working(facts: ApplianceFacts) -> Iterator[Text]:
    yield OWN() if facts.kind in OWN_ONLY else ANY()
    for each in sorted(facts.far, key=lambda each: natural(each.box)):
        yield AWAY(box=each.box, figure=Length(each.distance_mm, Rounding.UP))


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle at its place."""
    facts, room = finding.facts, room_named(house, finding.spot.room)
    for fixture in room.fixtures or ():
        place = beside_fixture(room, fixture)
        if finding.subject == f"{room.id}/{fixture.id}" and place:
            yield for_appliance(house, place, room.id, facts.kind)
            for each in sorted(facts.far, key=lambda each: each.distance_mm)[:1]:
                yield moved(each.box, place)


@rule(
    NAME,
    topic="receptacles",
    title="Appliance receptacles",
    tell=tell,
    scope=Scope.ROOM,
    facts=ApplianceFacts,
    fixes=_fixes,
)
def appliance_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each place left for an appliance has a receptacle for it, or equipment wired straight.

    A range and a dryer need one of their own; others may use one for general use. Where the
    code gives a distance, it lies flat from the place of the appliance.
    """
    book = site.rulebook
    if f"{NAME}.kinds" not in book:
        return
    for room in site.house.rooms:
        for place in appliance_places(site, room):
            yield _place(this, site, room, place)


def appliance_places(site: HouseByCode, room: Room) -> list[Fixture]:
    """The places of a room left for appliances of which the code speaks."""
    kinds = site.rulebook.value(f"{NAME}.kinds", ())
    places = (*(room.fixtures or ()), *_at_counters(site, room))
    chosen: list[Fixture] = []
    for place in places:
        if place.kind in kinds:
            chosen.append(place)
    return chosen


def _at_counters(site: HouseByCode, room: Room) -> Iterator[Fixture]:
    """The ranges and refrigerators that part a wall counter, as places along its wall."""
    for counter in site.counters_in[room.id]:
        if counter.kind is not CounterKind.WALL:
            continue
        line = CounterLine(counter, site.rulebook)
        for number, item in enumerate(counter.interruptions, 1):
            if item.kind in AT_COUNTER:
                wall, at = line.wall_at(item.at_mm)
                yield Fixture.model_construct(
                    id=f"{counter.id}.{number}",
                    kind=AT_COUNTER[item.kind],
                    wall=wall,
                    at_mm=at,
                    width_mm=item.width_mm,
                    depth_mm=counter.depth_mm,
                )


def _within(book: Rulebook, kind: FixtureKind) -> float | None:
    """How near a receptacle has to be, where the code says so for this appliance."""
    name = "within_mm"
    if kind is FixtureKind.DOOR_OPENER:
        name = "opener_mm"
    found = book.value(f"{NAME}.{name}")
    if found is None:
        return None
    return float(found)


def _place(this: Rule, site: HouseByCode, room: Room, place: Fixture) -> Finding:
    wired = set()
    for appliance in site.house.appliances:
        if appliance.room == room.id and appliance.name.lower().startswith(CALLED[place.kind]):
            wired.add(appliance.id)
    facts = _facts(site, room, place, frozenset(wired))
    verdict = Verdict.NOT_TO_CODE
    if facts.wired or facts.receptacles:
        verdict = Verdict.OK
        facts = replace(facts, missing=frozenset())
    elif facts.missing:
        verdict = Verdict.INFO_NEEDED
    spot = fixture_words(site, room, place)
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, f"{room.id}/{place.id}", verdict, spot, facts, limits)


def _facts(site: HouseByCode, room: Room, place: Fixture, wired: frozenset[str]) -> ApplianceFacts:
    """The receptacles of a room by whether they serve the place, are too far, or may serve."""
    within = _within(site.rulebook, place.kind)
    serving = set()
    far = set()
    missing: set[PlaceLacking] = set()
    for box in site.receptacles_in[room.id]:
        if not _serves(box, place.kind):
            continue
        if within is None:
            serving.add(box.id)
            continue
        found = apart(site, room, box, place)
        if found.distance_mm is None:
            missing |= set(found.missing)
        elif found.distance_mm <= within + EPSILON:
            serving.add(box.id)
        else:
            far.add(FarReceptacle(box.id, round(found.distance_mm, 3)))
    return ApplianceFacts(
        place.kind, within, wired, frozenset(serving), frozenset(far), frozenset(missing)
    )


def _serves(box: Box, kind: FixtureKind) -> bool:
    own = kept_for(box, *CALLED[kind])
    return own or (kind not in OWN_ONLY and for_general_use(box))
