"""What this house uses already, so that it is offered where something is exchanged or added."""

from collections import Counter
from typing import Any

from inspections.checker.asking.fixing import (
    added_receptacle,
    next_cable_id,
    usual_height,
    wall_place,
)
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.plan import RoomPlan
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.fixes import Fix, FixKind
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.gauges import awg_number
from inspections.checker.house.power import Circuit
from inspections.checker.house.rooms import Counter as WorkSurface
from inspections.checker.house.rooms import CounterKind, Room

APPLIANCE_NAMES = {
    FixtureKind.WASHER: "washer",
    FixtureKind.DRYER: "dryer",
    FixtureKind.REFRIGERATOR: "refrigerator",
    FixtureKind.RANGE: "range",
    FixtureKind.DISHWASHER: "dishwasher",
    FixtureKind.MICROWAVE: "microwave",
    FixtureKind.DOOR_OPENER: "door opener",
}
"""What a receptacle is kept for, as a house file writes it."""


SIDE_BELOW_MM = 150.0
"""How far below the top of an island a receptacle is set in its side."""


def gauges_of(house: House, largest: int | None = None) -> list[str]:
    """The wire sizes that power cables of this house have, the smallest wire first.

    `largest` is the size that the wire must have at least: a larger wire has a smaller number.
    """
    sizes = set()
    for cable in house.cables:
        if cable.awg and cable.kind.carries_power:
            sizes.add(cable.awg)
    fit = []
    for size in sizes:
        if largest is None or awg_number(size) <= largest:
            fit.append(size)
    return sorted(fit, key=awg_number, reverse=True)


def breakers_of(house: House, most: float) -> list[float]:
    """The ratings of this house's breakers up to one, the largest first."""
    ratings = set()
    for circuit in house.circuits:
        if circuit.breaker_a <= most:
            ratings.add(circuit.breaker_a)
    return sorted(ratings, reverse=True)


def ratings_of(house: House, least: float, most: float | None) -> list[float]:
    """The ratings of this house's receptacles between two; the least itself is always one."""
    ratings = {float(least)}
    for box in house.boxes:
        for device in box.devices:
            rating = device.amperes
            if device.kind is not DeviceKind.RECEPTACLE or rating is None or rating < least:
                continue
            if most is None or rating <= most:
                ratings.add(rating)
    return sorted(ratings)


def kept_names(house: House) -> list[str]:
    """The appliances that receptacles of this house are kept for."""
    names = set()
    for box in house.boxes:
        for device in box.devices:
            if device.dedicated_to:
                names.add(device.dedicated_to)
    return sorted(names or set(APPLIANCE_NAMES.values()))


def free_spaces(house: House, circuit: Circuit) -> set[int]:
    """The spaces of a circuit's panel that no other circuit takes."""
    taken: set[int] = set()
    for each in house.circuits:
        if each.panel == circuit.panel and each.id != circuit.id:
            taken.update(each.slots)
    panel = next(each for each in house.panels if each.id == circuit.panel)
    return set(range(1, (panel.spaces or 0) + 1)) - taken


def beside_fixture(room: Room, fixture: Fixture) -> dict[str, Any] | None:
    """The wall behind the middle of a fixture, or the ceiling over one that is away from it."""
    if fixture.wall is None or fixture.at_mm is None:
        return None
    middle = fixture.at_mm + (fixture.width_mm or 0) / 2
    if fixture.from_wall_mm:
        out = fixture.from_wall_mm + (fixture.depth_mm or 0) / 2
        x, y = RoomPlan(room, FloorLine(room)).at(fixture.wall, middle, out)
        return {"surface": "ceiling", "x_mm": float(round(x)), "y_mm": float(round(y))}
    return wall_place(fixture.wall, middle, (fixture.top_mm or 0) + 200.0)


def at_island(counter: WorkSurface) -> dict[str, Any]:
    """The side of an island, in its middle; of a peninsula, at its outer end."""
    at_mm = counter.length_mm or 0.0
    if counter.kind is CounterKind.ISLAND:
        at_mm /= 2
    below = {"above_top_mm": -SIDE_BELOW_MM, "overhang_mm": 0.0}
    return {"surface": "counter", "counter": counter.id, "at_mm": at_mm, **below}


def for_appliance(house: House, place: dict[str, Any], room: str, kind: FixtureKind) -> Fix:
    """A receptacle that is kept for one appliance."""
    where = dict(place)
    if where["surface"] == "wall":
        where["height_mm"] = usual_height(house)
    devices = [{"kind": DeviceKind.RECEPTACLE.value, "dedicated_to": APPLIANCE_NAMES[kind]}]
    return added_receptacle(house, where, room, devices=devices)


def fed_from(house: House, circuit: str, panel: str, to: str, unreached: frozenset[str]) -> Fix:
    """A cable of a circuit to a place, from its panel or a box that the circuit reaches."""
    sizes: Counter[str | None] = Counter()
    reached = []
    for cable in house.cables:
        if cable.circuit == circuit:
            sizes[cable.awg] += 1
            reached += [end for end in cable.ends if end not in unreached and end != panel]
    sources = tuple(dict.fromkeys([*reversed(reached), panel]))
    name = next_cable_id(house)
    cable_to: dict[str, Any] = {
        "id": name,
        "kind": "nm",
        "ends": [sources[0], to],
        "circuit": circuit,
    }
    if sizes:
        cable_to["awg"] = sizes.most_common(1)[0][0]
    return Fix(("cables", name), FixKind.ADDED, choices=sources, to=cable_to)
