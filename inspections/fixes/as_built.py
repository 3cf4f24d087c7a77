"""A house as it was built: which facts change when a box is moved, added or removed on site.

A box that is added has its place and its device; what it is made of is not recorded yet. Where one
is removed in the middle of a run, the run goes on by a new cable. Pure.
"""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.fixing import next_id
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.paths import NoSuchPath, part_key
from inspections.fixes.cables_changed import (
    Change,
    House,
    free_ids,
    new_cable,
    without_cables,
)
from inspections.fixes.fixes import HouseFacts


def recorded_box(house: House, name: str) -> House:
    """A box by its id. Raises NoSuchPath where there is none."""
    for box in house.get("boxes", ()):
        if box["id"] == name:
            found: House = box
            return found
    raise NoSuchPath(name)


def box_moved(house: House, name: str, place: dict[str, Any]) -> list[Change]:
    """A box at another place; what is not given of it stays. Raises NoSuchPath for no box."""
    was = recorded_box(house, name)["place"]
    now = place
    if was["surface"] == place["surface"]:
        now = was | place
    return [(("boxes", name, "place"), was, now)]


def box_added(
    facts: HouseFacts, *, room: str, device: DeviceKind, place: dict[str, Any], fed_from: str
) -> list[Change]:
    """A box with one device, fed by a cable from another box; by none where that is empty.

    Raises NoSuchPath where no circuit reaches the box that is to feed it.
    """
    name = next_id(facts.house, device)
    fitted: dict[str, Any] = {"kind": device.value}
    cables: list[Change] = []
    if fed_from:
        house = facts.json
        own = _feeding(house, fed_from)
        fitted["circuit"] = own[0]["circuit"]
        cables.append(new_cable(own, (fed_from, name), next(free_ids(house))))
    made = {"id": name, "room": room, "place": place, "devices": [fitted]}
    return [(("boxes", name), None, made), *cables]


def box_removed(house: House, name: str) -> list[Change]:
    """A box taken out with the cables that end at it. Raises NoSuchPath for no box."""
    box = recorded_box(house, name)
    gone = [cable for cable in house.get("cables", ()) if name in cable["ends"]]
    changes = list(_joined(house, name, gone))
    changes.extend(_unnamed(house, name, gone))
    changes.extend(without_cables(house, gone))
    changes.append((("boxes", name), box, None))
    return changes


def circuit_renamed(house: House, circuit: str, name: str) -> list[Change]:
    """A circuit with another name. Raises NoSuchPath for no circuit."""
    for each in house.get("circuits", ()):
        if each["id"] == circuit:
            return [(("circuits", circuit, "name"), each["name"], name)]
    raise NoSuchPath(circuit)


def _feeding(house: House, node: str) -> list[House]:
    """The cables of the circuit that reaches a box, the one that feeds it first."""
    recorded_box(house, node)
    to = [each for each in house["cables"] if node in each["ends"] and each.get("circuit")]
    to.sort(key=lambda cable: cable["ends"][1] != node)
    if not to:
        raise NoSuchPath(node)
    own = [each for each in house["cables"] if each.get("circuit") == to[0]["circuit"]]
    own.sort(key=lambda cable: cable["id"] != to[0]["id"])
    return own


def _joined(house: House, name: str, gone: list[House]) -> Iterator[Change]:
    """New cables from what fed a box to what it fed, circuit by circuit."""
    ids = free_ids(house)
    for circuit in dict.fromkeys(cable.get("circuit") for cable in gone):
        if circuit is None:
            continue
        at_box = [cable for cable in gone if cable.get("circuit") == circuit]
        own = [cable for cable in house["cables"] if cable.get("circuit") == circuit]
        there = {frozenset(cable["ends"]) for cable in own}
        beyond = [next(end for end in cable["ends"] if end != name) for cable in at_box]
        feeding = [cable["ends"][0] for cable in at_box if cable["ends"][1] == name]
        start = (feeding or beyond)[0]
        for node in beyond:
            if node != start and frozenset((start, node)) not in there:
                yield new_cable(at_box or own, (start, node), next(ids))


def _unnamed(house: House, name: str, gone: list[House]) -> Iterator[Change]:
    """What names a box without ending at it: switches, doors that it lights, cables."""
    yield from _switches(house, name)
    yield from _doors(house, name)
    lost = {cable["id"] for cable in gone}
    for cable in house.get("cables", ()):
        for passed in cable.get("through") or ():
            if passed["box"] == name and cable["id"] not in lost:
                key = part_key("through", passed)
                yield ("cables", cable["id"], "through", key), passed, None


def _switches(house: House, name: str) -> Iterator[Change]:
    for box in house.get("boxes", ()):
        for number, device in enumerate(box.get("devices", ())):
            named = device.get("controls") or ()
            if name in named and box["id"] != name:
                left = [each for each in named if each != name]
                yield ("boxes", box["id"], "devices", number, "controls"), named, left or None


def _doors(house: House, name: str) -> Iterator[Change]:
    for room in house.get("rooms", ()):
        for wall in room.get("walls", ()):
            for number, opening in enumerate(wall.get("openings", ())):
                if opening.get("light") == name:
                    where = ("rooms", room["id"], "walls", wall["id"], "openings", number)
                    yield (*where, "light"), name, None
