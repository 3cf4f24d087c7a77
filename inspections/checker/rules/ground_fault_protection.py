"""Ground-fault protection of receptacles by where they are."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from inspections.checker.asking.fixtures import in_counter
from inspections.checker.asking.protection import FaultKind, Shield
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind, OnCounter
from ..house.fixtures import Fixture, FixtureKind
from ..house.rooms import InterruptionKind, Room, RoomKind
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode
from ..words import length, listed

NAME = "ground-fault-protection"
WET = frozenset({FixtureKind.BASIN, FixtureKind.TUB, FixtureKind.SHOWER})
WATER = frozenset({RoomKind.BATHROOM, RoomKind.WASHROOM, RoomKind.LAUNDRY})
"""Rooms that have a basin, tub or shower more often than not."""


class Need(NamedTuple):
    """Why a receptacle needs protection, under which limit; or the fact that is missing."""

    limit: Limit
    why: str = ""
    at_mm: float | None = None
    missing: str = ""


def tell(finding: Finding) -> FindingWords:
    """Why protection is asked for, and where it comes from."""
    data = finding.facts
    reasons = []
    for each in data["why"]:
        reasons.append(_why(each, finding.imperial))
    why = listed(reasons)
    missing, by = listed(data["missing"]), data["by"]
    figure = "protected by a receptacle"
    if by == "breaker":
        figure = f"protected by its {by}"
    if not by:
        figure = "not protected"
    says = {
        Verdict.MEETS: f"Ground-fault protection comes from {_from(by)}.",
        Verdict.SHORT: f"No ground-fault protection: the receptacle is {why}.",
        Verdict.UNKNOWN: f"No ground-fault protection, and nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Fit a ground-fault breaker, or a ground-fault receptacle here or before.",
        Verdict.UNKNOWN: f"Record {missing}, or protect it.",
    }
    working = []
    if why:
        working = [f"asked for: {why}"]
    if missing:
        working += [f"not recorded: {missing}"]
    working.append(f"circuit {data['circuit'] or 'not recorded'}: {figure}")
    return verdict_words(finding, figure, "ground-fault protection", working, says, remedies)


def _from(by: str) -> str:
    if by == "breaker":
        return "the breaker"
    return "a receptacle"


def _why(each: tuple[str, float | None], imperial: bool) -> str:
    why, at = each
    if at is not None:
        return f"{length(at, imperial)} from {why}"
    return why


@rule(NAME, topic="circuits", title="Ground-fault protection", tell=tell, scope=Scope.PLACED)
def ground_fault_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles in damp places and near water have ground-fault protection.

    Some rooms are named outright; elsewhere the distance to a sink, tub or shower of the same
    room counts, on the plan and not through a wall. Protection comes from the breaker, from the
    receptacle itself, or from one before it whose protected side feeds on. Where a fact is
    missing and there is protection all the same, nothing more is asked.
    """
    book = site.rulebook
    if f"{NAME}.rooms" not in book:
        return
    shield = Shield(site, FaultKind.GROUND)
    for room in site.asked:
        wet = list(_wet(site, room))
        for box in site.receptacles_in[room.id]:
            found = _box(this, site, shield, room, box, wet)
            if found:
                yield found


def _box(
    this: Rule, site: HouseByCode, shield: Shield, room: Room, box: Box, wet: list[Fixture]
) -> Finding | None:
    devices = []
    needs: list[Need] = []
    for device in box.devices:
        if _rated(site.rulebook, device):
            devices.append(device)
            needs += _needs(site, room, box, device, wet)
    if not needs:
        return None
    by = []
    circuits: set[str] = set()
    for device in devices:
        by.append(shield.of(box, device))
        circuits.update(site.supply.of(box, device))
    names = []
    for name in sorted(circuits):
        names.append(site.circuits[name].name)
    data: dict[str, Any] = {**_told(needs), "by": "", "circuit": listed(names)}
    if all(by):
        data["by"] = by[0]
    verdict = Verdict.UNKNOWN
    if data["by"]:
        verdict = Verdict.MEETS
    elif data["why"]:
        verdict = Verdict.SHORT
    limits = {}
    for need in needs:
        limits[need.limit.name] = need.limit
    return Finding(this, box.id, verdict, site.box_spot(box), data, tuple(limits.values()))


def _told(needs: list[Need]) -> dict[str, Any]:
    """Each reason once with how near the water is, and each missing fact once."""
    why, missing = {}, {}
    for need in needs:
        if need.why:
            why[need.why, need.at_mm] = True
        if need.missing:
            missing[need.missing] = True
    return {"why": list(why), "missing": list(missing)}


def _rated(book: Rulebook, device: Device) -> bool:
    """Whether a device is a receptacle of a voltage and rating that the code speaks of."""
    if device.kind is not DeviceKind.RECEPTACLE or device.part_of_equipment:
        return False
    high = book.value(f"{NAME}.all_voltages", False)
    return high or (device.poles == 1 and (device.amperes or 0) <= 20)


def _needs(
    site: HouseByCode, room: Room, box: Box, device: Device, wet: list[Fixture]
) -> Iterator[Need]:
    book = site.rulebook
    yield from _by_room(site, room, book[f"{NAME}.rooms"])
    counters = book.get(f"{NAME}.counters")
    if counters and counters.value and _over_kitchen_counter(site, room, box, device):
        yield Need(counters, "over a kitchen counter")
    appliances = book.get(f"{NAME}.appliances")
    word = (device.dedicated_to or "").lower()
    if appliances and any(each in word for each in appliances.value):
        yield Need(appliances, f"there for the {word}")
    yield from _near(site, room, box, device, wet)


def _by_room(site: HouseByCode, room: Room, rooms: Limit) -> Iterator[Need]:
    if room.kind in rooms.value:
        yield Need(rooms, f"in {room.name}")
    elif _laundry(site, room) and RoomKind.LAUNDRY in rooms.value:
        yield Need(rooms, f"in {room.name}, where the washer is")


def _over_kitchen_counter(site: HouseByCode, room: Room, box: Box, device: Device) -> bool:
    in_kitchen = room.kind is RoomKind.KITCHEN
    return in_kitchen and is_general(device) and serves_counter(site, box)


def _laundry(site: HouseByCode, room: Room) -> bool:
    """Whether a washer stands in a room that has another use as well."""
    for box in site.receptacles_in[room.id]:
        for device in box.devices:
            if (device.dedicated_to or "").lower().startswith("wash"):
                return True
    return False


def _near(
    site: HouseByCode, room: Room, box: Box, device: Device, wet: list[Fixture]
) -> Iterator[Need]:
    limit = site.rulebook.get(f"{NAME}.near_mm")
    spared = site.rulebook.value(f"{NAME}.spares_appliances", False)
    if limit is None or (spared and device.dedicated_to):
        return
    if room.fixtures is None and room.kind in WATER:
        yield Need(limit, missing=f"the basins, tubs and showers of {room.name}")
    if isinstance(box.place, OnCounter):
        yield from _with_sink(site, room, box.place, limit)
    elif wet:
        yield from _by_fixtures(site, room, box, wet, limit)


def _with_sink(site: HouseByCode, room: Room, place: OnCounter, limit: Limit) -> Iterator[Need]:
    """A receptacle on a counter is near its sink, wherever along it."""
    counters = site.counters_in[room.id]
    mine = next(counter for counter in counters if counter.id == place.counter)
    if any(item.kind is InterruptionKind.SINK for item in mine.interruptions):
        yield Need(limit, f"on counter {mine.id} with a sink")


def _by_fixtures(
    site: HouseByCode, room: Room, box: Box, wet: list[Fixture], limit: Limit
) -> Iterator[Need]:
    """The fixtures that it stands near on the plan, with no wall between."""
    if not room.walls:
        yield Need(limit, missing=f"the walls of {room.name}")
        return
    plan = site.plans[room.id]
    point = plan.of(box)
    if point is None:
        yield Need(limit, missing=f"where box {box.id} is on the plan")
        return
    for fixture in wet:
        apart = plan.apart(point, fixture)
        what = f"{fixture.kind.value} {fixture.id}"
        if apart is None:
            yield Need(limit, missing=f"where {what} stands")
        elif apart <= limit.value + EPSILON and not plan.walled_off(point, fixture):
            yield Need(limit, what, round(apart, 1))


def _wet(site: HouseByCode, room: Room) -> Iterator[Fixture]:
    """Basins, tubs and showers of a room, and the sinks in its wall counters."""
    for each in room.fixtures or ():
        if each.kind in WET:
            yield each
    for counter in site.counters_in[room.id]:
        for number, item in enumerate(counter.interruptions, 1):
            if item.kind is InterruptionKind.SINK and counter.along:
                yield in_counter(counter, f"{counter.id}.{number}", item, FixtureKind.BASIN)
