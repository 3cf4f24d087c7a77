"""Switches kept out of reach of a person in a tub or shower."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from config.messages.message import Length, Value, message
from inspections.checker.asking.bath_words import (
    MEASURE,
    MOVE,
    TAPE,
    away_text,
    bath_not_recorded,
    between,
    distance_lines,
    either_way,
    fixture_text,
    fixtures_missing,
    least,
    touches,
)
from inspections.checker.asking.bath_zones import (
    BathZone,
    BesideTub,
    Near,
    NoTubFacts,
    deciding_zone,
    near,
    rooms_to_bathe,
    severest,
)
from inspections.checker.asking.fixing import box_named, breaker_fixes, moved
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.power import Protection
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode

NAME = "tub-switches"
SWITCHES = (DeviceKind.SWITCH, DeviceKind.DIMMER)
GROUND_FAULT = (Protection.GFCI, Protection.DUAL)
AWAY = message(f"{NAME}.away", "Switch {box} is {away} from {fixture}; {limit} minimum.")
INSIDE = message(f"{NAME}.inside", "Switch {box} is in the space of {fixture}.")
OUTSIDE = message(f"{NAME}.outside", "Switch {box} is outside the space of {fixture}.")
UNPROTECTED = message(
    f"{NAME}.unprotected",
    "Switch {box} is {away} from {fixture}; {limit} minimum without a Class A GFCI.",
)
WALLED = message(
    f"{NAME}.walled", "Switch {box} is {away} from {fixture} on the plan, through a wall."
)
VERIFY_GFCI = message(f"{NAME}.verify-gfci", "Verify its GFCI protection, or move it.")
BY_PROTECTION = message(
    f"{NAME}.by-protection", "{unprotected} minimum; {within} behind a Class A GFCI"
)
PROTECTED = message(f"{NAME}.protected", "its breaker is a Class A GFCI")
BARE = message(f"{NAME}.bare", "no Class A GFCI recorded at its breaker")
BY_BREAKER = (BathZone.UNPROTECTED, BathZone.UNPROTECTED_THROUGH_WALL)


@dataclass(frozen=True, slots=True)
class TubSwitchFacts:
    """A switch box, where it is to each tub and shower of its room, and what protects it."""

    box: str
    beside: frozenset[BesideTub]
    within_mm: float
    unprotected_mm: float | None
    protected: bool

    @property
    def required_mm(self) -> float:
        """How far it must be as its circuit is protected now."""
        if self.unprotected_mm is None or self.protected:
            return self.within_mm
        return self.unprotected_mm

    @property
    def wants_protection(self) -> bool:
        """Whether ground-fault protection would bring it far enough from one of them."""
        return any(each.zone is BathZone.UNPROTECTED for each in self.beside)


def tell(finding: Finding) -> FindingWords:
    """The switch and how far it is from the tub or shower that decides."""
    facts = finding.facts
    if isinstance(facts, NoTubFacts):
        return fixtures_missing()
    limit: Value = ""
    if facts.within_mm:
        limit = least(facts.required_mm)
    working = tuple(_working(facts))
    if finding.verdict is Verdict.INFO_NEEDED:
        return bath_not_recorded(facts.box, facts.beside, limit, working)
    each = deciding_zone(facts.beside, finding.verdict)
    working = (*working, *either_way(facts.box, facts.beside))
    return FindingWords(
        _says(facts, each), _away(facts, each), limit, working, _remedy(facts, each)
    )


def _away(facts: TubSwitchFacts, each: BesideTub) -> Length:
    """How far it is, on its own side of every limit that is said with it."""
    if each.zone in BY_BREAKER:
        return between(each.away_mm or 0.0, facts.within_mm, facts.unprotected_mm or 0.0)
    return away_text(each)


def _says(facts: TubSwitchFacts, each: BesideTub) -> Value:
    box, fixture, away = facts.box, fixture_text(each), _away(facts, each)
    if each.zone in (BathZone.THROUGH_WALL, BathZone.UNPROTECTED_THROUGH_WALL):
        return WALLED(box=box, away=away, fixture=fixture)
    if touches(each):
        return INSIDE(box=box, fixture=fixture)
    if not facts.within_mm:
        return OUTSIDE(box=box, fixture=fixture)
    limit = least(facts.required_mm)
    if each.zone is BathZone.UNPROTECTED:
        return UNPROTECTED(box=box, away=away, fixture=fixture, limit=limit)
    return AWAY(box=box, away=away, fixture=fixture, limit=limit)


def _remedy(facts: TubSwitchFacts, each: BesideTub) -> Value:
    match each.zone:
        case BathZone.NEAR:
            return MOVE()
        case BathZone.UNPROTECTED:
            return VERIFY_GFCI()
        case BathZone.THROUGH_WALL | BathZone.UNPROTECTED_THROUGH_WALL:
            return MEASURE(limit=least(facts.required_mm))
        case _:
            return ""


def _working(facts: TubSwitchFacts) -> Iterator[Value]:
    yield from distance_lines(facts.beside, None, None, partial(_away, facts))
    if facts.unprotected_mm is not None:
        unprotected, within = least(facts.unprotected_mm), least(facts.within_mm)
        yield BY_PROTECTION(unprotected=unprotected, within=within)
        yield PROTECTED() if facts.protected else BARE()


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Farther away, or behind a ground-fault breaker where that is near enough."""
    facts = finding.facts
    if not isinstance(facts, TubSwitchFacts):
        return
    yield moved(facts.box)
    if facts.wants_protection:
        circuits = {each.circuit for each in box_named(house, facts.box).devices if each.circuit}
        yield from breaker_fixes(circuits, Protection.GFCI)


@rule(
    NAME,
    topic="switching",
    title="Switches near tubs and showers",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape(TAPE, Comparator.AT_LEAST, "within_mm", held_in("within_mm")),),
    facts=TubSwitchFacts | NoTubFacts,
    fixes=_fixes,
)
def tub_switches(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A light switch is not within a tub or shower, nor, by some codes, within reach of one.

    Where a code gives a distance, half of it will do behind a Class A ground-fault interrupter.
    Distances lie flat, from the switch to the outer edge, and not through a wall.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.boxes_in[room.id]:
            if _switches(box):
                boxes.append(box)
        if fixtures is None and boxes:
            limits = (book[f"{NAME}.within_mm"],)
            spot = site.room_spot(room)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, spot, NoTubFacts(room.id), limits)
        for box in boxes if fixtures else ():
            yield _box(this, site, box, near(site, room, box, fixtures or []))


def _switches(box: Box) -> bool:
    for device in box.devices:
        if device.kind in SWITCHES:
            return True
    return False


def _box(this: Rule, site: HouseByCode, box: Box, all_near: list[Near]) -> Finding:
    book = site.rulebook
    within, unprotected = book.value(f"{NAME}.within_mm"), book.value(f"{NAME}.unprotected_mm")
    protected = _protected(site, box)
    needed = None
    if not protected:
        needed = unprotected
    beside = frozenset(each.beside(_zone(each, within, needed)) for each in all_near)
    facts = TubSwitchFacts(box.id, beside, within, unprotected, protected)
    limits = []
    for name in ("within_mm", "unprotected_mm"):
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return Finding(this, box.id, severest(beside), site.box_spot(box), facts, tuple(limits))


def _zone(each: Near, within: float, unprotected: float | None) -> BathZone:
    """Where it is; `unprotected` is how far it must be when no protection is recorded."""
    zone = each.within(within)
    if (
        zone is not BathZone.CLEAR
        or unprotected is None
        or each.within(unprotected) is BathZone.CLEAR
    ):
        return zone
    if each.walled_off:
        return BathZone.UNPROTECTED_THROUGH_WALL
    return BathZone.UNPROTECTED


def _protected(site: HouseByCode, box: Box) -> bool:
    """Whether the breaker of every switch in it gives ground-fault protection."""
    for device in box.devices:
        if device.kind not in SWITCHES:
            continue
        circuit = site.circuits.get(device.circuit or "")
        if circuit is None or circuit.protection not in GROUND_FAULT:
            return False
    return True
