"""Alarms on the ceiling or close under it."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind, OnCeiling, OnWall
from ..measures import Comparator, Tape, held_in
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import length, listed

NAME = "alarm-heights"
SMOKE = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.COMBINED_ALARM})


def tell(finding: Finding) -> FindingWords:
    """How far under the ceiling the alarm is."""
    data, imperial = finding.facts, finding.imperial
    asked = f"no more than {length(data['asked'], imperial)} below the ceiling"
    below, missing = data["below"], listed(data["missing"])
    if below is None:
        figure = "not recorded"
    else:
        figure = f"{length(below, imperial)} below the ceiling"
    if data["on_ceiling"]:
        figure = "on the ceiling"
    if data["elsewhere"]:
        figure = "neither wall nor ceiling"
    says = {
        Verdict.MEETS: f"The alarm is {figure}.",
        Verdict.SHORT: f"The alarm is {figure}; smoke reaches it late.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Move it to the ceiling, or close under it.",
        Verdict.UNKNOWN: f"Measure {missing} and record it.",
    }
    return verdict_words(finding, figure, asked, (f"{figure}; {asked} asked",), says, remedies)


@rule(
    NAME,
    topic="alarms",
    title="Alarms at the ceiling",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape("below the ceiling", Comparator.AT_MOST, "below_mm", held_in("asked")),),
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
    missing: list[str] = []
    below = None
    if isinstance(place, OnWall):
        below, missing = _below_ceiling(site, box, place)
    data = {
        "asked": limit.value,
        "below": below,
        "on_ceiling": overhead,
        "elsewhere": not overhead and not isinstance(place, OnWall),
        "missing": missing,
    }
    verdict = Verdict.SHORT
    if overhead or (below is not None and below <= limit.value + EPSILON):
        verdict = Verdict.MEETS
    elif missing:
        verdict = Verdict.UNKNOWN
    return Finding(this, box.id, verdict, site.box_spot(box), data, (limit,))


def _below_ceiling(site: HouseByCode, box: Box, place: OnWall) -> tuple[float | None, list[str]]:
    """How far below the ceiling it stands, and what is missing to say so."""
    ceiling = site.rooms[box.room].ceiling_mm
    if ceiling is not None and place.height_mm is not None:
        return round(ceiling - place.height_mm, 3), []
    missing = []
    if ceiling is None:
        missing.append("how high the ceiling is")
    if place.height_mm is None:
        missing.append(f"how high box {box.id} stands")
    return None, missing
