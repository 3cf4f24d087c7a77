"""Alarms on the ceiling or close under it."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Length, Listed, Message, Value, message
from inspections.checker.asking.points import (
    NOT_RECORDED,
    RECORD,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind, OnCeiling, OnWall
from ..measures import Comparator, Tape, held_in
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "alarm-heights"
SMOKE = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.COMBINED_ALARM})
WAY = Comparator.AT_MOST


class AlarmHeightMissing(StrEnum):
    """What has to be measured to say how far under the ceiling an alarm is."""

    CEILING = "ceiling"
    ALARM = "alarm"


MISSING: dict[AlarmHeightMissing, Message] = {
    AlarmHeightMissing.CEILING: message(f"{NAME}.missing.ceiling", "the height of the ceiling"),
    AlarmHeightMissing.ALARM: message(f"{NAME}.missing.alarm", "the height of alarm {alarm}"),
}
AT_CEILING = message(f"{NAME}.at-ceiling", "Alarm {alarm} is at the ceiling.")
BELOW = message(f"{NAME}.below", "Alarm {alarm} is {figure} below the ceiling; {limit} maximum.")
ELSEWHERE = message(f"{NAME}.elsewhere", "Alarm {alarm} is on neither a wall nor the ceiling.")
RAISE = message(f"{NAME}.remedy", "Move it up, or onto the ceiling.")
MOUNT = message(f"{NAME}.elsewhere.remedy", "Mount it on the ceiling, or high on a wall.")
TAPE = message(f"{NAME}.tape", "below the ceiling")


@dataclass(frozen=True, slots=True)
class AlarmHeightFacts:
    """Where an alarm is, and how far below the ceiling when that is a wall."""

    alarm: str
    limit_mm: float
    below_mm: float | None
    on_ceiling: bool
    elsewhere: bool
    """On neither a wall nor the ceiling."""
    missing: frozenset[AlarmHeightMissing]


def tell(finding: Finding) -> FindingWords:
    """How far under the ceiling the alarm is."""
    facts: AlarmHeightFacts = finding.facts
    limit = Length(facts.limit_mm, limit_rounding(WAY))
    figure: Value = ""
    remedy: Value = ""
    below = facts.below_mm
    if facts.on_ceiling or (below is not None and below <= 0):
        says = AT_CEILING(alarm=facts.alarm)
    elif facts.elsewhere:
        says, remedy = ELSEWHERE(alarm=facts.alarm), MOUNT()
    elif below is None:
        says, remedy = NOT_RECORDED(what=_missing(facts)), RECORD()
    else:
        holds = finding.verdict is Verdict.OK
        figure = Length(below, figure_rounding(WAY, holds))
        says = BELOW(alarm=facts.alarm, figure=figure, limit=limit)
        if not holds:
            remedy = RAISE()
    return FindingWords(says, figure, limit, (says,), remedy)


def _missing(facts: AlarmHeightFacts) -> Listed:
    missing = []
    for each in AlarmHeightMissing:
        if each in facts.missing:
            said = MISSING[each]
            missing.append(said(alarm=facts.alarm) if said.holes else said())
    return Listed(tuple(missing))


@rule(
    NAME,
    topic="alarms",
    title="Alarms at the ceiling",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape(TAPE, WAY, "below_mm", held_in("limit_mm")),),
    facts=AlarmHeightFacts,
    workmanship=True,
)
def alarm_heights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Smoke alarms are on the ceiling, or on a wall close under it.

    The distance is taken from the ceiling to the centre of the box.
    """
    limit = site.rulebook.get(f"{NAME}.below_mm")
    if limit is None:
        return
    for box in site.house.boxes:
        if any(device.kind in SMOKE for device in box.devices):
            yield _alarm(this, site, box, limit)


def _alarm(this: Rule, site: HouseByCode, box: Box, limit: Limit) -> Finding:
    place = box.place
    overhead = isinstance(place, OnCeiling)
    missing: frozenset[AlarmHeightMissing] = frozenset()
    below = None
    if isinstance(place, OnWall):
        below, missing = _below_ceiling(site, box, place)
    facts = AlarmHeightFacts(
        box.id,
        limit.value,
        below,
        on_ceiling=overhead,
        elsewhere=not overhead and not isinstance(place, OnWall),
        missing=missing,
    )
    verdict = Verdict.NOT_TO_CODE
    if overhead or (below is not None and below <= limit.value + EPSILON):
        verdict = Verdict.OK
    elif missing:
        verdict = Verdict.INFO_NEEDED
    return Finding(this, box.id, verdict, site.box_spot(box), facts, (limit,))


def _below_ceiling(
    site: HouseByCode, box: Box, place: OnWall
) -> tuple[float | None, frozenset[AlarmHeightMissing]]:
    """How far below the ceiling it is, and what is missing to say so."""
    ceiling = site.rooms[box.room].ceiling_mm
    if ceiling is not None and place.height_mm is not None:
        return round(ceiling - place.height_mm, 3), frozenset()
    missing = set()
    if ceiling is None:
        missing.add(AlarmHeightMissing.CEILING)
    if place.height_mm is None:
        missing.add(AlarmHeightMissing.ALARM)
    return None, frozenset(missing)
