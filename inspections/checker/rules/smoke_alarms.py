"""Smoke alarms in bedrooms, outside them, and on each storey."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from config.messages.message import Value, message
from inspections.checker.asking.alarms import (
    ADD,
    AT_DOORS,
    COUNTED,
    EACH_AREA,
    HERE,
    NOT_LIVED_IN,
    SMOKE,
    AlarmPlace,
    alarms_found,
    alarms_in,
    sleeping_areas,
)
from inspections.checker.asking.fixing import added_box
from inspections.checker.asking.lines import parts_named_in
from inspections.checker.asking.visual import HERE as CHECKS_HERE
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.nouns import noun
from ..house.rooms import RoomKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "smoke-alarms"
ALARM = DeviceKind.SMOKE_ALARM
REQUIRED = 1
HALLWAYS = message(
    f"{NAME}.hallways",
    "{n} hallways outside the bedrooms.",
    one="{n} hallway outside the bedrooms.",
)


@dataclass(frozen=True, slots=True)
class SmokeAlarmFacts:
    """The alarms at a place that requires one."""

    place: AlarmPlace
    at: str
    """The bedroom, or the storey."""
    alarms: frozenset[str]
    hallways: int = 0
    """Outside bedrooms: how many hallways there are."""


def tell(finding: Finding) -> FindingWords:
    """How many alarms there are where one is required."""
    facts: SmokeAlarmFacts = finding.facts
    count = len(facts.alarms)
    says = alarms_found(ALARM, facts.place, count)
    remedy: Value = ""
    working: list[Value] = [HERE(alarms=parts_named_in(facts.alarms))]
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = ADD()
    elif finding.verdict is Verdict.VERIFY:
        says = CHECKS_HERE(checks=EACH_AREA(alarm=noun(ALARM)), parts=COUNTED[ALARM](n=count))
        remedy = AT_DOORS()
        working.append(HALLWAYS(n=facts.hallways))
    return FindingWords(says, count, REQUIRED, tuple(working), remedy)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """An alarm in the ceiling of the room."""
    place = {"surface": "ceiling"}
    yield added_box(house, DeviceKind.SMOKE_ALARM, place, finding.spot.room)


@rule(
    NAME,
    topic="alarms",
    title="Smoke alarms",
    tell=tell,
    scope=Scope.ALARMS,
    facts=SmokeAlarmFacts,
    fixes=_fixes,
)
def smoke_alarms(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A smoke alarm is in each bedroom, outside each sleeping area, and on each storey.

    The hallways of a storey are taken to be outside its bedrooms; on a storey without a hallway
    any room that is lived in. Attics, crawl spaces and garages are no storeys.
    """
    for name, asking in (
        ("bedrooms", _in_bedrooms),
        ("outside", _outside_bedrooms),
        ("storeys", _on_storeys),
    ):
        limit = site.rulebook.get(f"{NAME}.{name}")
        if limit and limit.value:
            yield from asking(this, site, limit)


def _in_bedrooms(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for room in site.house.rooms:
        if room.kind is RoomKind.BEDROOM:
            alarms = _ids(alarms_in(site, room, SMOKE))
            facts = SmokeAlarmFacts(AlarmPlace.BEDROOM, room.id, alarms)
            spot = site.room_spot(room)
            yield Finding(this, room.id, _verdict(alarms), spot, facts, (limit,))


def _outside_bedrooms(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for area in sleeping_areas(site, SMOKE):
        alarms = _ids(area.outside)
        halls = {hall.id for hall in area.halls}
        in_halls = {box.room for box in area.outside}
        verdict = _verdict(alarms)
        if alarms and len(halls) > 1 and in_halls != halls:
            verdict = Verdict.VERIFY
        facts = SmokeAlarmFacts(AlarmPlace.OUTSIDE, area.storey, alarms, len(halls))
        room = (area.halls or site.rooms_on[area.storey])[0]
        yield Finding(
            this, f"outside/{area.storey}", verdict, site.room_spot(room), facts, (limit,)
        )


def _on_storeys(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for storey, rooms in site.rooms_on.items():
        lived_in = [room for room in rooms if room.kind not in NOT_LIVED_IN]
        if lived_in:
            alarms: frozenset[str] = frozenset()
            for room in lived_in:
                alarms |= _ids(alarms_in(site, room, SMOKE))
            facts = SmokeAlarmFacts(AlarmPlace.LEVEL, storey, alarms)
            spot = site.room_spot(rooms[0])
            yield Finding(this, f"storey/{storey}", _verdict(alarms), spot, facts, (limit,))


def _ids(boxes: Iterable[Box]) -> frozenset[str]:
    return frozenset(box.id for box in boxes)


def _verdict(alarms: frozenset[str]) -> Verdict:
    if alarms:
        return Verdict.OK
    return Verdict.NOT_TO_CODE
