"""Smoke alarms away from cooking and from bathroom doors."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.alarms import (
    SMOKE,
    alarms_in,
    cooking_in,
    doors_of,
    from_door,
    point_of,
)
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.geometry.plan import Point

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, Sensor
from ..house.fixtures import FixtureKind
from ..house.rooms import Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import length, listed

NAME = "alarm-distances"
BATHING = frozenset({FixtureKind.TUB, FixtureKind.SHOWER})
Apart = tuple[str, float, float]
"""What it is near, how far that is, and how far it should be at least."""


def tell(finding: Finding) -> FindingWords:
    """What the alarm is near."""
    data, imperial = finding.facts, finding.imperial
    near = []
    for what, at, _ in data["near"]:
        near.append(f"{length(at, imperial)} from {what}")
    doubt = []
    for what, at, _ in data["doubt"]:
        doubt.append(f"{length(at, imperial)} from {what}")
    missing = listed(data["missing"])
    every = sorted([*data["near"], *data["doubt"], *data["clear"]], key=lambda each: each[1])
    figure = "nothing near"
    if every:
        figure = f"{length(every[0][1], imperial)} from {every[0][0]}"
    parts = []
    for what, _, x in every:
        parts.append(f"{length(x, imperial)} from {what}")
    limit = listed(dict.fromkeys(parts))
    says = {
        Verdict.MEETS: "The alarm is far enough from cooking and bathroom doors.",
        Verdict.SHORT: f"The alarm is only {listed(near)}.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}"
        + (f"; it is {listed(doubt)}." if doubt else "."),
    }
    remedies = {
        Verdict.SHORT: "Move it, unless that would leave a required place without an alarm.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }
    working = [
        f"{length(at, imperial)} from {what}; at least {length(asked, imperial)} asked"
        for what, at, asked in every
    ] or ["no range and no bathroom door on this storey"]
    if missing:
        working += [f"not recorded: {missing}"]
    return verdict_words(finding, figure, limit or "far enough", working, says, remedies)


@rule(
    NAME, topic="alarms", title="Alarms away from cooking and baths", tell=tell, scope=Scope.ALARMS
)
def alarm_distances(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Smoke alarms stand away from ranges and from the doors of rooms with a tub or shower.

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
    asked_limits = []
    for name in names:
        asked_limits.append(book[f"{NAME}.{name}"])
    limits = tuple(asked_limits)
    data: dict[str, Any] = {"near": [], "doubt": [], "clear": [], "missing": []}
    if point is None:
        data["missing"] = [f"where alarm {box.id} is on the plan"]
    else:
        _sort(data, _baths(site, storey, point, limits[2]), ())
        far, close = limits[0].value, limits[1].value
        bounds = {Sensor.IONIZATION: (far,), Sensor.PHOTOELECTRIC: (close,)}
        ranges = _ranges(site, storey, point)
        least, *most = bounds.get(alarm.sensor or Sensor.BOTH, (close, far))
        asked_at = []
        for what, at in ranges:
            asked_at.append((what, at, least))
        _sort(data, asked_at, tuple(most))
    if data["doubt"]:
        data["missing"] = [f"the sensor of alarm {box.id}"]
    verdict = Verdict.MEETS
    if data["missing"]:
        verdict = Verdict.UNKNOWN
    if data["near"]:
        verdict = Verdict.SHORT
    return Finding(this, box.id, verdict, site.box_spot(box), data, limits)


def _sort(data: dict[str, Any], found: list[Apart], most: tuple[float, ...]) -> None:
    """Put each distance where it belongs; between two limits it hangs on the sensor."""
    for what, at, least in found:
        if at < least - EPSILON:
            data["near"].append((what, at, least))
        elif most and at < most[0] - EPSILON:
            data["doubt"].append((what, at, most[0]))
        else:
            data["clear"].append((what, at, most[0] if most else least))


def _ranges(site: HouseByCode, storey: str, point: Point) -> Iterator[tuple[str, float]]:
    for room in site.rooms_on[storey]:
        for fixture in cooking_in(site, room) if room.walls else ():
            apart = site.plans[room.id].apart(point, fixture)
            if apart is not None:
                yield f"the range in {room.name}", round(apart, 1)


def _baths(site: HouseByCode, storey: str, point: Point, limit: Limit) -> list[Apart]:
    apart: list[Apart] = []
    for room in site.rooms_on[storey]:
        if room.kind is RoomKind.BATHROOM and _bathes(room):
            for wall, door in doors_of(room):
                apart.append(
                    (
                        f"the door of {room.name}",
                        round(from_door(site, point, room, wall, door), 1),
                        limit.value,
                    )
                )
    return apart


def _bathes(room: Room) -> bool:
    """Whether a bathroom has a tub or shower, or nobody recorded what it has."""
    return room.fixtures is None or any(each.kind in BATHING for each in room.fixtures)
