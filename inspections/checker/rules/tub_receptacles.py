"""Receptacles kept away from tubs and showers."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from config.messages.message import Length, Rounding, Value, message
from inspections.checker.asking.bath_words import (
    MEASURE,
    MOVE,
    SPACE,
    TAPE,
    away_text,
    bath_not_recorded,
    between,
    distance_lines,
    either_way,
    fixture_text,
    fixtures_missing,
    least,
    rise_text,
    space_end,
    touches,
)
from inspections.checker.asking.bath_zones import (
    BathZone,
    BesideTub,
    Near,
    NoTubFacts,
    deciding_zone,
    near,
    nearest_first,
    rooms_to_bathe,
    severest,
)
from inspections.checker.asking.fixing import moved
from inspections.checker.asking.fixtures import height_of
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import Room
from ..measures import Comparator, HasFigures, Tape
from ..rulebook import Rulebook
from ..site import HouseByCode

NAME = "tub-receptacles"
AWAY = message(f"{NAME}.away", "Receptacle {box} is {away} from {fixture}; {limit} minimum.")
OVER = message(f"{NAME}.over", "Receptacle {box} is in or over {fixture}.")
OUTSIDE = message(f"{NAME}.outside", "Receptacle {box} is outside the space of {fixture}.")
ABOVE = message(
    f"{NAME}.above",
    "Receptacle {box} is {rise} above the rim of {fixture}; the space ends at {limit}.",
)
BELOW = message(
    f"{NAME}.below",
    "Receptacle {box} is below the rim of {fixture}; this edition sets no distance there.",
)
SMALL = message(
    f"{NAME}.small-room",
    "Receptacle {box} is {away} from {fixture}; this bathroom has no room for {limit}.",
)
FARTHER = message(
    f"{NAME}.farther",
    "Receptacle {box} is {away} from {fixture}; {limit} minimum, {preferred} where practicable.",
)
WALLED = message(
    f"{NAME}.walled", "Receptacle {box} is {away} from {fixture} on the plan, through a wall."
)
CORNER = message(f"{NAME}.corner", "farthest corner: {away} from {fixture}")
VERIFY_FARTHER = message(f"{NAME}.verify-farther", "Verify that it cannot go farther away.")
VERIFY_WALL = message(
    f"{NAME}.verify-wall", "Verify that it is on the farthest wall, across from the rim."
)
MEASURE_MORE = message(
    f"{NAME}.measure-more", "Measure around the wall: {preferred} where practicable."
)
EXCUSES = (BathZone.ABOVE, BathZone.BELOW, BathZone.SMALL_ROOM)


@dataclass(frozen=True, slots=True)
class TubReceptacleFacts:
    """A receptacle, and where it is to each tub and shower of its room."""

    box: str
    beside: frozenset[BesideTub]
    within_mm: float
    preferred_mm: float | None
    up_mm: float | None
    height_mm: float | None


def tell(finding: Finding) -> FindingWords:
    """The receptacle and how far it is from the tub or shower that decides."""
    facts = finding.facts
    if isinstance(facts, NoTubFacts):
        return fixtures_missing()
    limit: Value = ""
    if facts.within_mm:
        limit = least(facts.within_mm)
    working = tuple(_working(facts))
    if finding.verdict is Verdict.INFO_NEEDED:
        return bath_not_recorded(facts.box, facts.beside, limit, working)
    each = deciding_zone(facts.beside, finding.verdict)
    working = (*working, *either_way(facts.box, facts.beside))
    figure: Value = _away(facts, each)
    if each.zone is BathZone.ABOVE:
        figure, limit = rise_text(each, facts.height_mm, facts.up_mm), space_end(facts.up_mm)
    elif each.zone is BathZone.BELOW:
        figure, limit = "", ""
    return FindingWords(_says(facts, each), figure, limit, working, _remedy(facts, each))


def _away(facts: TubReceptacleFacts, each: BesideTub) -> Length:
    """How far it is, on its own side of every limit that is said with it."""
    if each.zone in (BathZone.FARTHER, BathZone.FARTHER_THROUGH_WALL):
        return between(each.away_mm or 0.0, facts.within_mm, facts.preferred_mm or 0.0)
    return away_text(each)


def _says(facts: TubReceptacleFacts, each: BesideTub) -> Value:
    box, fixture, away = facts.box, fixture_text(each), _away(facts, each)
    limit = least(facts.within_mm)
    match each.zone:
        case BathZone.ABOVE:
            up = facts.up_mm or 0.0
            rise = rise_text(each, facts.height_mm or 0.0, up)
            return ABOVE(box=box, rise=rise, fixture=fixture, limit=space_end(up))
        case BathZone.BELOW:
            return BELOW(box=box, fixture=fixture)
        case BathZone.SMALL_ROOM:
            return SMALL(box=box, away=away, fixture=fixture, limit=limit)
        case BathZone.FARTHER:
            preferred = least(facts.preferred_mm or 0.0)
            return FARTHER(box=box, away=away, fixture=fixture, limit=limit, preferred=preferred)
        case BathZone.THROUGH_WALL | BathZone.FARTHER_THROUGH_WALL:
            return WALLED(box=box, away=away, fixture=fixture)
        case _:
            return _plain(facts, each)


def _plain(facts: TubReceptacleFacts, each: BesideTub) -> Value:
    """Too near or clear of it, by the distance alone."""
    box, fixture = facts.box, fixture_text(each)
    if touches(each):
        return OVER(box=box, fixture=fixture)
    if not facts.within_mm:
        return OUTSIDE(box=box, fixture=fixture)
    return AWAY(box=box, away=away_text(each), fixture=fixture, limit=least(facts.within_mm))


def _remedy(facts: TubReceptacleFacts, each: BesideTub) -> Value:
    match each.zone:
        case BathZone.NEAR:
            return MOVE()
        case BathZone.SMALL_ROOM:
            return VERIFY_WALL()
        case BathZone.FARTHER:
            return VERIFY_FARTHER()
        case BathZone.FARTHER_THROUGH_WALL:
            return MEASURE_MORE(preferred=least(facts.preferred_mm or 0.0))
        case BathZone.THROUGH_WALL:
            return MEASURE(limit=least(facts.within_mm))
        case _:
            return ""


def _working(facts: TubReceptacleFacts) -> Iterator[Value]:
    away = partial(_away, facts)
    yield from distance_lines(facts.beside, facts.height_mm, facts.up_mm, away)
    for each in nearest_first(facts.beside):
        if each.farthest_mm is not None:
            yield CORNER(fixture=fixture_text(each), away=Length(each.farthest_mm, Rounding.DOWN))
    if facts.up_mm is not None and any(each.rim_mm is not None for each in facts.beside):
        yield SPACE(out=least(facts.within_mm), up=space_end(facts.up_mm))


def _within(finding: HasFigures) -> float | None:
    """How far it must be; None where its height or the room's size excuses it."""
    facts = finding.facts
    if isinstance(facts, NoTubFacts) or any(each.zone in EXCUSES for each in facts.beside):
        return None
    within: float = facts.within_mm
    return within


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """Farther away."""
    if isinstance(finding.facts, TubReceptacleFacts):
        yield moved(finding.facts.box)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles near tubs and showers",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape(TAPE, Comparator.AT_LEAST, "within_mm", _within),),
    facts=TubReceptacleFacts | NoTubFacts,
    fixes=_fixes,
)
def tub_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle is clear of the space over and around a tub or shower.

    How far is a matter of code and edition: over the tub itself, or a distance out and up from
    its rim. Distances lie flat, from the receptacle to the outer edge, and not through a wall.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.receptacles_in[room.id]:
            if _counts(box):
                boxes.append(box)
        if fixtures is None and boxes:
            limits = (book[f"{NAME}.within_mm"],)
            spot = site.room_spot(room)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, spot, NoTubFacts(room.id), limits)
        for box in boxes if fixtures else ():
            yield _box(this, site, room, box, near(site, room, box, fixtures or []))


def _counts(box: Box) -> bool:
    for device in box.devices:
        if device.kind is DeviceKind.RECEPTACLE and not device.part_of_equipment:
            return True
    return False


def _box(this: Rule, site: HouseByCode, room: Room, box: Box, all_near: list[Near]) -> Finding:
    book = site.rulebook
    beside = frozenset(_judged(site, room, box, each) for each in all_near)
    facts = TubReceptacleFacts(
        box.id,
        beside,
        book.value(f"{NAME}.within_mm"),
        book.value(f"{NAME}.preferred_mm"),
        book.value(f"{NAME}.up_mm"),
        height_of(box),
    )
    names = ("within_mm", "preferred_mm", "up_mm", "from_floor", "far_wall")
    limits = []
    for name in names:
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return Finding(this, box.id, severest(beside), site.box_spot(box), facts, tuple(limits))


def _judged(site: HouseByCode, room: Room, box: Box, each: Near) -> BesideTub:
    book = site.rulebook
    within = book.value(f"{NAME}.within_mm")
    zone = each.within(within)
    if zone is BathZone.CLEAR:
        return each.beside(_by_preference(each, book.value(f"{NAME}.preferred_mm")))
    if zone is not BathZone.NEAR:
        return each.beside(zone)
    found = _by_height(book, box, each)
    farthest = site.plans[room.id].farthest(each.fixture)
    small = farthest is not None and farthest < within - EPSILON
    if found.zone is BathZone.NEAR and small and book.value(f"{NAME}.far_wall"):
        return each.beside(BathZone.SMALL_ROOM, farthest_mm=farthest)
    return found


def _by_preference(each: Near, preferred: float | None) -> BathZone:
    """Far enough; eyes are asked for where the code would rather have it farther still."""
    if not preferred or each.within(preferred) is BathZone.CLEAR:
        return BathZone.CLEAR
    if each.walled_off:
        return BathZone.FARTHER_THROUGH_WALL
    return BathZone.FARTHER


def _by_height(book: Rulebook, box: Box, each: Near) -> BesideTub:
    """Whether it is below the space or above it, where the edition gives it a height."""
    up = book.value(f"{NAME}.up_mm")
    if up is None:
        return each.beside(BathZone.NEAR)
    return each.by_height(height_of(box), up, book.value(f"{NAME}.from_floor", False))
