"""Carbon monoxide alarms near bedrooms where fuel burns or a garage is attached."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Length, Listed, Message, Text, Value, message
from inspections.checker.asking.alarms import (
    ADD,
    AT_DOORS,
    CARBON_MONOXIDE,
    COUNTED,
    EACH_AREA,
    HERE,
    AlarmPlace,
    alarms_found,
    alarms_in,
    doors_of,
    from_door,
    point_of,
    sleeping_areas,
)
from inspections.checker.asking.lines import in_order, parts_named_in
from inspections.checker.asking.points import (
    EITHER_WAY,
    NOT_RECORDED,
    figure_rounding,
)
from inspections.checker.asking.visual import HERE as CHECKS_HERE
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.nouns import noun
from ..house.rooms import OpeningKind, Room, RoomKind
from ..measures import Comparator
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "carbon-monoxide-alarms"
ALARM = DeviceKind.CO_ALARM
REQUIRED = 1


class CarbonMonoxideSource(StrEnum):
    """What carbon monoxide may come from."""

    GARAGE = "garage"
    FIREPLACE = "fireplace"
    APPLIANCE = "appliance"


NEAR_FOUND = message(
    f"{NAME}.near.found", "{alarms} in this bedroom or within {within} of its door; 1 required."
)
NEAR_NONE = message(
    f"{NAME}.near.none", "No {alarm} in this bedroom or within {within} of its door."
)
REQUIRED_BY = message(f"{NAME}.required-by", "Required because of {sources}.")
SOURCES: dict[CarbonMonoxideSource, Message] = {
    CarbonMonoxideSource.GARAGE: message(f"{NAME}.garage", "a garage ({id})"),
    CarbonMonoxideSource.FIREPLACE: message(f"{NAME}.fireplace", "a fireplace ({id})"),
    CarbonMonoxideSource.APPLIANCE: message(f"{NAME}.appliance", "fuel-burning appliance {id}"),
}
FUEL = message(f"{NAME}.missing.fuel", "whether appliance {appliance} burns fuel")
PLACE = message(f"{NAME}.missing.place", "where alarm {alarm} is")
RECORD_OR_ADD = message(f"{NAME}.missing.remedy", "Record it, or add an alarm.")
FROM_DOOR = message(f"{NAME}.from-door", "Alarm {alarm} is {figure} from the bedroom door.")


@dataclass(frozen=True, slots=True)
class CarbonMonoxideReason:
    """Why an alarm is required: the room or the appliance that it is for."""

    source: CarbonMonoxideSource
    id: str


@dataclass(frozen=True, slots=True)
class CarbonMonoxideDistance:
    """How far an alarm is from the nearest doorway of a bedroom."""

    alarm: str
    at_mm: float


@dataclass(frozen=True, slots=True)
class CarbonMonoxideFacts:
    """The alarms that serve a bedroom or a storey of bedrooms, and why one is required."""

    place: AlarmPlace
    at: str
    """The bedroom, or the storey."""
    within_mm: float | None
    why: frozenset[CarbonMonoxideReason]
    alarms: frozenset[str]
    distances: frozenset[CarbonMonoxideDistance]
    fuel_missing: frozenset[str]
    """Appliances of which it decides whether they burn fuel."""
    place_missing: frozenset[str]
    """Alarms of which it decides where they are."""


def tell(finding: Finding) -> FindingWords:
    """How many alarms there are where one is required, and why it is."""
    facts: CarbonMonoxideFacts = finding.facts
    count = len(facts.alarms)
    says = _found(facts)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = ADD()
    elif finding.verdict is Verdict.VERIFY:
        says = CHECKS_HERE(checks=EACH_AREA(alarm=noun(ALARM)), parts=COUNTED[ALARM](n=count))
        remedy = AT_DOORS()
    elif finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed(_missing(facts)))
        remedy = RECORD_OR_ADD()
    return FindingWords(says, count, REQUIRED, _working(finding, facts), remedy)


def _found(facts: CarbonMonoxideFacts) -> Text:
    count = len(facts.alarms)
    if facts.within_mm is None:
        return alarms_found(ALARM, facts.place, count)
    within = Length(facts.within_mm, figure_rounding(Comparator.AT_MOST, True))
    if count:
        return NEAR_FOUND(alarms=COUNTED[ALARM](n=count), within=within)
    return NEAR_NONE(alarm=noun(ALARM), within=within)


def _missing(facts: CarbonMonoxideFacts) -> tuple[Text, ...]:
    missing = [FUEL(appliance=each) for each in in_order(facts.fuel_missing)]
    missing += [PLACE(alarm=each) for each in in_order(facts.place_missing)]
    return tuple(missing)


def _working(finding: Finding, facts: CarbonMonoxideFacts) -> tuple[Value, ...]:
    lines: list[Value] = []
    if facts.why:
        ordered = sorted(facts.why, key=lambda each: (each.source, each.id))
        sources = tuple(SOURCES[each.source](id=each.id) for each in ordered)
        lines.append(REQUIRED_BY(sources=Listed(sources)))
    for each in sorted(facts.distances, key=lambda each: (each.at_mm, each.alarm)):
        close = each.alarm in facts.alarms
        at = Length(each.at_mm, figure_rounding(Comparator.AT_MOST, close))
        lines.append(FROM_DOOR(alarm=each.alarm, figure=at))
    missing = _missing(facts)
    if missing and finding.verdict is not Verdict.INFO_NEEDED:
        lines.append(EITHER_WAY(what=Listed(missing)))
    lines.append(HERE(alarms=parts_named_in(facts.alarms)))
    return tuple(lines)


@rule(
    NAME,
    topic="alarms",
    title="Carbon monoxide alarms",
    tell=tell,
    scope=Scope.ALARMS,
    facts=CarbonMonoxideFacts,
)
def carbon_monoxide_alarms(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where fuel is burned or a garage is attached, carbon monoxide is noticed near bedrooms.

    One code requires an alarm outside each sleeping area, the other one in each bedroom or within a
    distance of its door. Fireplaces are taken to burn fuel. A house without fuel and without a
    garage needs none.
    """
    outside, near = (site.rulebook.get(f"{NAME}.{name}") for name in ("outside", "from_door_mm"))
    why, missing = _reasons(site)
    if not (why or missing):
        return
    if near:
        for room in site.house.rooms:
            if room.kind is RoomKind.BEDROOM:
                yield _bedroom(this, site, room, near, why, missing)
    elif outside and outside.value:
        yield from _outside(this, site, outside, why, missing)


def _reasons(site: HouseByCode) -> tuple[frozenset[CarbonMonoxideReason], frozenset[str]]:
    """Why alarms are required; and the appliances whose fuel is missing to say that none are."""
    why = set()
    missing = set()
    for room in site.house.rooms:
        if room.kind is RoomKind.GARAGE and not room.detached:
            why.add(CarbonMonoxideReason(CarbonMonoxideSource.GARAGE, room.id))
        if _has_fireplace(room):
            why.add(CarbonMonoxideReason(CarbonMonoxideSource.FIREPLACE, room.id))
    for appliance in site.house.appliances:
        if appliance.burns_fuel:
            why.add(CarbonMonoxideReason(CarbonMonoxideSource.APPLIANCE, appliance.id))
        elif appliance.burns_fuel is None:
            missing.add(appliance.id)
    return frozenset(why), frozenset(missing)


def _has_fireplace(room: Room) -> bool:
    for wall in room.walls:
        for opening in wall.openings:
            if opening.kind is OpeningKind.FIREPLACE:
                return True
    return False


def _verdict(found: bool, why: frozenset[CarbonMonoxideReason]) -> Verdict:
    if found:
        return Verdict.OK
    if why:
        return Verdict.NOT_TO_CODE
    return Verdict.INFO_NEEDED


def _bedroom(
    this: Rule,
    site: HouseByCode,
    room: Room,
    near: Limit,
    why: frozenset[CarbonMonoxideReason],
    missing: frozenset[str],
) -> Finding:
    alarms = {box.id for box in alarms_in(site, room, CARBON_MONOXIDE)}
    others = _alarms_outside(site, room)
    distances = frozenset(_distances(site, room, others))
    unplaced = {box.id for box in others}
    for each in distances:
        unplaced.discard(each.alarm)
        if each.at_mm <= near.value + EPSILON:
            alarms.add(each.alarm)
    facts = CarbonMonoxideFacts(
        AlarmPlace.BEDROOM,
        room.id,
        near.value,
        why,
        frozenset(alarms),
        distances,
        fuel_missing=frozenset() if why else missing,
        place_missing=frozenset(unplaced) if why else frozenset(),
    )
    verdict = _verdict(bool(alarms), why)
    if verdict is Verdict.NOT_TO_CODE and unplaced:
        verdict = Verdict.INFO_NEEDED
    return Finding(this, room.id, verdict, site.room_spot(room), facts, (near,))


def _alarms_outside(site: HouseByCode, room: Room) -> list[Box]:
    """The alarms on a bedroom's storey that are in no bedroom."""
    alarms: list[Box] = []
    for other in site.rooms_on[room.storey]:
        if other.kind is not RoomKind.BEDROOM:
            alarms += alarms_in(site, other, CARBON_MONOXIDE)
    return alarms


def _distances(
    site: HouseByCode, room: Room, alarms: list[Box]
) -> Iterator[CarbonMonoxideDistance]:
    """How far each alarm of known place is from the nearest doorway of the room."""
    doors = list(doors_of(room))
    for box in alarms:
        point = point_of(site, box)
        if point and doors:
            to_doors = []
            for wall, door in doors:
                to_doors.append(from_door(site, point, room, wall, door))
            yield CarbonMonoxideDistance(box.id, round(min(to_doors), 1))


def _outside(
    this: Rule,
    site: HouseByCode,
    outside: Limit,
    why: frozenset[CarbonMonoxideReason],
    missing: frozenset[str],
) -> Iterator[Finding]:
    for area in sleeping_areas(site, CARBON_MONOXIDE):
        halls = {hall.id for hall in area.halls}
        several = len(halls) > 1 and {box.room for box in area.outside} != halls
        facts = CarbonMonoxideFacts(
            AlarmPlace.OUTSIDE,
            area.storey,
            None,
            why,
            frozenset(box.id for box in area.outside),
            frozenset(),
            fuel_missing=frozenset() if why else missing,
            place_missing=frozenset(),
        )
        verdict = _verdict(bool(area.outside), why)
        if verdict is Verdict.OK and several:
            verdict = Verdict.VERIFY
        spot = site.room_spot((area.halls or area.bedrooms)[0])
        yield Finding(this, f"outside/{area.storey}", verdict, spot, facts, (outside,))
