"""Smoke alarms away from cooking and from bathroom doors."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from config.messages.message import Length, Listed, Message, Rounding, Text, Value, message
from inspections.checker.asking.alarms import (
    SMOKE,
    alarms_in,
    cooking_in,
    doors_of,
    from_door,
    point_of,
)
from inspections.checker.asking.lines import sentences
from inspections.checker.asking.points import (
    NOT_RECORDED,
    RECORD,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.geometry.plan import Point

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, Sensor
from ..house.fixtures import FixtureKind
from ..house.rooms import Room, RoomKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "alarm-distances"
BATHING = frozenset({FixtureKind.TUB, FixtureKind.SHOWER})
WAY = Comparator.AT_LEAST
MOST_SAID = 2


class AlarmDistanceSource(StrEnum):
    """What makes an alarm sound for nothing."""

    RANGE = "range"
    BATH_DOOR = "bath door"


class AlarmDistanceMissing(StrEnum):
    """What has to be recorded to say whether an alarm is far enough."""

    PLACE = "place"
    SENSOR = "sensor"
    LISTING = "listing"
    """It has both sensors, and its listing says how near a range it may be."""


FROM: dict[AlarmDistanceSource, Message] = {
    AlarmDistanceSource.RANGE: message(
        f"{NAME}.range", "Alarm {alarm} is {figure} from range {id}; {limit} minimum."
    ),
    AlarmDistanceSource.BATH_DOOR: message(
        f"{NAME}.bath-door", "Alarm {alarm} is {figure} from a bathroom door; {limit} minimum."
    ),
}
DOUBT = message(
    f"{NAME}.doubt",
    "Range {id} is {figure} away; {limit} minimum, less with a photoelectric sensor alone.",
)
NOTHING = message(f"{NAME}.nothing", "No range or bathroom door near alarm {alarm}.")
MISSING: dict[AlarmDistanceMissing, Message] = {
    AlarmDistanceMissing.PLACE: message(
        f"{NAME}.missing.place", "where alarm {alarm} is on the plan"
    ),
    AlarmDistanceMissing.SENSOR: message(
        f"{NAME}.missing.sensor", "which sensor alarm {alarm} has"
    ),
    AlarmDistanceMissing.LISTING: message(
        f"{NAME}.missing.listing", "how close to a range alarm {alarm} is listed for"
    ),
}
MOVE = message(f"{NAME}.remedy", "Move it, unless that leaves a required place without an alarm.")
LABEL = message(f"{NAME}.missing.remedy", "Read its label and record it.")


@dataclass(frozen=True, slots=True)
class AlarmApart:
    """How far an alarm is from something, and how far it has to be."""

    source: AlarmDistanceSource
    room: str
    id: str
    """A range's; a door has none."""
    at_mm: float
    minimum_mm: float


@dataclass(frozen=True, slots=True)
class AlarmDistanceFacts:
    """What an alarm is too near to, what its sensor decides, and what it is clear of."""

    alarm: str
    near: frozenset[AlarmApart]
    doubt: frozenset[AlarmApart]
    clear: frozenset[AlarmApart]
    missing: frozenset[AlarmDistanceMissing]


def tell(finding: Finding) -> FindingWords:
    """What the alarm is near."""
    facts: AlarmDistanceFacts = finding.facts
    telling = {Verdict.NOT_TO_CODE: facts.near, Verdict.INFO_NEEDED: facts.doubt}
    tightest = _by_margin(telling.get(finding.verdict, facts.clear))
    says: Value = NOTHING(alarm=facts.alarm)
    remedy: Value = ""
    figure: Value = ""
    limit: Value = ""
    if tightest:
        figure, limit = _figure(facts, tightest[0]), _limit(tightest[0])
        said = tightest[:1]
        if facts.near:
            said = tightest[:MOST_SAID]
        says = sentences(_from(facts, each) for each in said)
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = MOVE()
    elif finding.verdict is Verdict.INFO_NEEDED:
        says, remedy = NOT_RECORDED(what=_missing(facts)), LABEL()
        if AlarmDistanceMissing.PLACE in facts.missing:
            remedy = RECORD()
    return FindingWords(says, figure, limit, _working(facts) or (says,), remedy)


def _by_margin(every: frozenset[AlarmApart]) -> list[AlarmApart]:
    """Those with least to spare first."""
    return sorted(every, key=lambda each: (each.at_mm - each.minimum_mm, each.room, each.id))


def _missing(facts: AlarmDistanceFacts) -> Listed:
    missing = []
    for each in AlarmDistanceMissing:
        if each in facts.missing:
            missing.append(MISSING[each](alarm=facts.alarm))
    return Listed(tuple(missing))


def _figure(facts: AlarmDistanceFacts, each: AlarmApart) -> Length:
    return Length(each.at_mm, figure_rounding(WAY, each in facts.clear))


def _limit(each: AlarmApart) -> Length:
    return Length(each.minimum_mm, limit_rounding(WAY))


def _from(facts: AlarmDistanceFacts, each: AlarmApart) -> Text:
    said = FROM[each.source]
    holes: dict[str, Value] = {
        "alarm": facts.alarm,
        "figure": _figure(facts, each),
        "limit": _limit(each),
        "id": each.id,
    }
    return said(**{name: holes[name] for name in said.holes})


def _working(facts: AlarmDistanceFacts) -> tuple[Value, ...]:
    """Every distance, the shortest first."""
    lines: list[Value] = []
    every = facts.near | facts.doubt | facts.clear
    for each in sorted(every, key=lambda each: (each.at_mm, each.room, each.id)):
        if each in facts.doubt:
            figure = Length(each.at_mm, Rounding.DOWN)
            lines.append(DOUBT(id=each.id, figure=figure, limit=_limit(each)))
        else:
            lines.append(_from(facts, each))
    return tuple(lines)


@rule(
    NAME,
    topic="alarms",
    title="Alarms away from cooking and baths",
    tell=tell,
    scope=Scope.ALARMS,
    facts=AlarmDistanceFacts,
)
def alarm_distances(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Smoke alarms are kept away from ranges and from the doors of rooms with a tub or shower.

    How far from a range depends on the sensor. Distances are straight on the plan of the
    storey. A place that would otherwise go without an alarm it needs is excepted; that is the
    inspector's to say.
    """
    book = site.rulebook
    if f"{NAME}.bath_door_mm" not in book:
        return
    for rooms in site.rooms_on.values():
        for room in rooms:
            for box in alarms_in(site, room, SMOKE):
                alarm = next(device for device in box.devices if device.kind in SMOKE)
                yield _alarm(this, site, room.storey, box, alarm)


def _alarm(this: Rule, site: HouseByCode, storey: str, box: Box, alarm: Device) -> Finding:
    book, point = site.rulebook, point_of(site, box)
    names = ("ionization_mm", "photoelectric_mm", "bath_door_mm")
    limits = tuple(book[f"{NAME}.{name}"] for name in names)
    far, close, door = (limit.value for limit in limits)
    sorted_out = _Sorted()
    missing = set()
    if point is None:
        missing.add(AlarmDistanceMissing.PLACE)
    else:
        for each in _baths(site, storey, point, door):
            sorted_out.put(each, None)
        bounds = {Sensor.IONIZATION: (far, None), Sensor.PHOTOELECTRIC: (close, None)}
        least, most = bounds.get(alarm.sensor or Sensor.BOTH, (close, far))
        for each in _ranges(site, storey, point, least):
            sorted_out.put(each, most)
    if sorted_out.doubt:
        missing.add(AlarmDistanceMissing.LISTING if alarm.sensor else AlarmDistanceMissing.SENSOR)
    facts = sorted_out.facts(box.id, frozenset(missing))
    verdict = Verdict.OK
    if facts.missing:
        verdict = Verdict.INFO_NEEDED
    if facts.near:
        verdict = Verdict.NOT_TO_CODE
    return Finding(this, box.id, verdict, site.box_spot(box), facts, limits)


class _Sorted:
    """Distances by what they say; between two limits it depends on the sensor."""

    def __init__(self) -> None:
        self.near: set[AlarmApart] = set()
        self.doubt: set[AlarmApart] = set()
        self.clear: set[AlarmApart] = set()

    def put(self, each: AlarmApart, most: float | None) -> None:
        """Put a distance where it belongs; `most` is the limit that the sensor may raise it to."""
        if each.at_mm < each.minimum_mm - EPSILON:
            self.near.add(each)
            return
        if most is not None:
            each = replace(each, minimum_mm=most)
        if each.at_mm < each.minimum_mm - EPSILON:
            self.doubt.add(each)
        else:
            self.clear.add(each)

    def facts(self, alarm: str, missing: frozenset[AlarmDistanceMissing]) -> AlarmDistanceFacts:
        """What was sorted, of this alarm."""
        return AlarmDistanceFacts(
            alarm, frozenset(self.near), frozenset(self.doubt), frozenset(self.clear), missing
        )


def _ranges(site: HouseByCode, storey: str, point: Point, minimum: float) -> Iterator[AlarmApart]:
    for room in site.rooms_on[storey]:
        for fixture in cooking_in(site, room) if room.walls else ():
            apart = site.plans[room.id].apart(point, fixture)
            if apart is not None:
                yield AlarmApart(
                    AlarmDistanceSource.RANGE, room.id, fixture.id, round(apart, 1), minimum
                )


def _baths(site: HouseByCode, storey: str, point: Point, minimum: float) -> Iterator[AlarmApart]:
    for room in site.rooms_on[storey]:
        if room.kind is RoomKind.BATHROOM and _bathes(room):
            for wall, door in doors_of(room):
                apart = round(from_door(site, point, room, wall, door), 1)
                yield AlarmApart(AlarmDistanceSource.BATH_DOOR, room.id, "", apart, minimum)


def _bathes(room: Room) -> bool:
    """Whether a bathroom has a tub or shower, or that is not recorded yet."""
    return room.fixtures is None or any(each.kind in BATHING for each in room.fixtures)
