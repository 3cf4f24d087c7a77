"""Carbon monoxide alarms near bedrooms where fuel burns or a garage is attached."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.alarms import (
    CARBON_MONOXIDE,
    alarms_in,
    doors_of,
    from_door,
    point_of,
    sleeping_areas,
)
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.rooms import OpeningKind, Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import length, listed, plural

NAME = "carbon-monoxide-alarms"


def tell(finding: Finding) -> FindingWords:
    """Why an alarm is asked for, and where one is."""
    data, imperial = finding.facts, finding.imperial
    why, alarms, missing = listed(data["why"]), listed(data["alarms"]), listed(data["missing"])
    where = data["where"]
    if data["within"] is not None:
        where = f"{where} within {length(data['within'], imperial)} of its door"
    figure = plural(len(data["alarms"]), "carbon monoxide alarm")
    says = {
        Verdict.MEETS: f"There is {figure} {where}.",
        Verdict.SHORT: f"There is no carbon monoxide alarm {where}.",
        Verdict.LOOK: f"Look whether each sleeping area has a carbon monoxide alarm outside: "
        f"{figure} here.",
        Verdict.UNKNOWN: f"No carbon monoxide alarm {where}, and nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Add one, joined to the others.",
        Verdict.LOOK: "Look at the doors of the bedrooms and tick, or add an alarm.",
        Verdict.UNKNOWN: f"Record {missing}, or add an alarm.",
    }
    working = []
    if why:
        working = [f"asked for because of {why}"]
    for box, at in data["at"]:
        working.append(f"alarm {box}: {length(at, imperial)} from the door")
    if missing:
        working += [f"not recorded: {missing}"]
    working += [f"found {where}: {alarms or 'none'}"]
    return verdict_words(finding, figure, f"an alarm {where}", working, says, remedies)


@rule(NAME, topic="alarms", title="Carbon monoxide alarms", tell=tell, scope=Scope.ALARMS)
def carbon_monoxide_alarms(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where fuel is burned or a garage is attached, carbon monoxide is noticed near bedrooms.

    One code asks for an alarm outside each sleeping area, the other for one in each bedroom or
    within a distance of its door. Fireplaces are taken to burn fuel. A house without fuel and
    without a garage needs none.
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


def _reasons(site: HouseByCode) -> tuple[list[str], list[str]]:
    """Why alarms are asked for; and what is missing to say that none are."""
    why = []
    missing = []
    for room in site.house.rooms:
        if room.kind is RoomKind.GARAGE and not room.detached:
            why.append(room.name)
        if _has_fireplace(room):
            why.append(f"the fireplace in {room.name}")
    for appliance in site.house.appliances:
        if appliance.burns_fuel:
            why.append(f"the {appliance.name.lower()}")
        elif appliance.burns_fuel is None:
            missing.append(f"whether the {appliance.name.lower()} burns fuel")
    return why, missing


def _has_fireplace(room: Room) -> bool:
    for wall in room.walls:
        for opening in wall.openings:
            if opening.kind is OpeningKind.FIREPLACE:
                return True
    return False


def _verdict(found: bool, why: list[str]) -> Verdict:
    if found:
        return Verdict.MEETS
    if why:
        return Verdict.SHORT
    return Verdict.UNKNOWN


def _bedroom(
    this: Rule, site: HouseByCode, room: Room, near: Limit, why: list[str], missing: list[str]
) -> Finding:
    inside = []
    for box in alarms_in(site, room, CARBON_MONOXIDE):
        inside.append(box.id)
    others = _alarms_outside(site, room)
    at = list(_distances(site, room, others))
    close = []
    for name, apart in at:
        if apart <= near.value + EPSILON:
            close.append(name)
    placed = dict(at)
    unplaced = []
    for box in others:
        if box.id not in placed:
            unplaced.append(f"where alarm {box.id} is")
    data: dict[str, Any] = {
        "where": f"in {room.name} or outside",
        "within": near.value,
        "why": why,
        "alarms": [*inside, *close],
        "at": at,
        "missing": unplaced if why else missing,
    }
    verdict = _verdict(bool(inside or close), why)
    if verdict is Verdict.SHORT and unplaced:
        verdict = Verdict.UNKNOWN
    return Finding(this, room.id, verdict, site.room_spot(room), data, (near,))


def _alarms_outside(site: HouseByCode, room: Room) -> list[Box]:
    """The alarms on a bedroom's storey that are in no bedroom."""
    alarms: list[Box] = []
    for other in site.rooms_on[room.storey]:
        if other.kind is not RoomKind.BEDROOM:
            alarms += alarms_in(site, other, CARBON_MONOXIDE)
    return alarms


def _distances(site: HouseByCode, room: Room, alarms: list[Box]) -> Iterator[tuple[str, float]]:
    """How far each alarm of known place is from the nearest doorway of the room."""
    doors = list(doors_of(room))
    for box in alarms:
        point = point_of(site, box)
        if point and doors:
            to_doors = []
            for wall, door in doors:
                to_doors.append(from_door(site, point, room, wall, door))
            apart = min(to_doors)
            yield box.id, round(apart, 1)


def _outside(
    this: Rule, site: HouseByCode, outside: Limit, why: list[str], missing: list[str]
) -> Iterator[Finding]:
    for area in sleeping_areas(site, CARBON_MONOXIDE):
        halls = set()
        for hall in area.halls:
            halls.add(hall.id)
        several = len(halls) > 1 and {box.room for box in area.outside} != halls
        alarms = []
        for box in area.outside:
            alarms.append(box.id)
        data: dict[str, Any] = {
            "where": f"outside the bedrooms of {site.storey_name(area.storey)}",
            "within": None,
            "why": why,
            "alarms": alarms,
            "at": [],
            "missing": [] if why else missing,
        }
        verdict = _verdict(bool(area.outside), why)
        if verdict is Verdict.MEETS and several:
            verdict = Verdict.LOOK
        spot = site.room_spot((area.halls or area.bedrooms)[0])
        yield Finding(this, f"outside/{area.storey}", verdict, spot, data, (outside,))
