"""What a recorded house asks of a crew: counts for planning, and what to bring.

It reads the file as it was kept, which was checked when it was recorded: a shop's houses are
gone through at once, and only a few of their figures are needed.
"""

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from jobs.planning.counts import AreaCounts

HUNG = {"luminaire", "ceiling_fan", "exhaust_fan", "smoke_alarm", "co_alarm", "combined_alarm"}
COMMUNICATIONS = {"data", "coax", "phone", "low_voltage"}


@dataclass
class AreaStuff:
    """What belongs to one area."""

    boxes: Counter[str] = field(default_factory=Counter)
    cable_m: Counter[str] = field(default_factory=Counter)
    unmeasured: Counter[str] = field(default_factory=Counter)
    braces: int = 0
    holes: int = 0
    devices: Counter[str] = field(default_factory=Counter)
    hung: Counter[str] = field(default_factory=Counter)
    plates: Counter[str] = field(default_factory=Counter)
    appliances: list[str] = field(default_factory=list)
    rooms: list[str] = field(default_factory=list)

    @property
    def counts(self) -> AreaCounts:
        """What planning needs of it."""
        return AreaCounts(
            boxes=sum(self.boxes.values()),
            cable_m=sum(self.cable_m.values()),
            unmeasured=sum(self.unmeasured.values()),
            holes=self.holes,
            devices=sum(self.devices.values()),
            luminaires=sum(self.hung.values()),
            appliances=len(self.appliances),
        )


@dataclass
class HouseStuff:
    """What belongs to a house, area by area, and its panels."""

    areas: dict[str, AreaStuff]
    breakers: Counter[str]
    circuits: int
    panels: int


def house_stuff(text: str) -> HouseStuff:
    """What a recorded house has, by area."""
    house = json.loads(text)
    areas = {area["id"]: AreaStuff() for area in house["areas"]}
    room_area = {}
    for room in house["rooms"]:
        room_area[room["id"]] = room["area"]
        areas[room["area"]].rooms.append(room["name"])
    node_area: dict[str, str] = {}
    for box in house.get("boxes", ()):
        area = box.get("area") or room_area[box["room"]]
        node_area[box["id"]] = area
        _box(areas[area], box)
    for other in (*house.get("panels", ()), *house.get("appliances", ())):
        node_area[other["id"]] = room_area[other["room"]]
    for appliance in house.get("appliances", ()):
        areas[node_area[appliance["id"]]].appliances.append(appliance["name"])
    for cable in house.get("cables", ()):
        _cable(areas, node_area, cable)
    for hole in house.get("holes", ()):
        areas[room_area[hole["room"]]].holes += 1
    circuits = house.get("circuits", ())
    breakers = Counter(map(_breaker, circuits))
    return HouseStuff(areas, breakers, len(circuits), _power_panels(house))


def _power_panels(house: Mapping[str, Any]) -> int:
    """How many panels it has, those for data and telephone left out."""
    count = 0
    for panel in house.get("panels", ()):
        if panel.get("kind") != "communications":
            count += 1
    return count


def _box(area: AreaStuff, box: Mapping[str, Any]) -> None:
    area.boxes[_box_words(box)] += 1
    area.braces += box.get("braces") or 0
    for device in box.get("devices", ()):
        kind = device["kind"].replace("_", " ")
        if device["kind"] in HUNG:
            area.hung[kind] += 1
        else:
            area.devices[f"{kind}{_ratings(device)}"] += 1
    if box["place"]["surface"] == "wall" and box.get("devices"):
        area.plates[f"{box.get('gangs', 1)}-gang plate"] += 1


def _box_words(box: Mapping[str, Any]) -> str:
    """What box to bring: of what, and of which stock or how large."""
    words = [box.get("material", "nonmetallic")]
    if stock := box.get("stock"):
        words.append(str(stock))
    else:
        words.append(f"{box.get('gangs', 1)}-gang")
        volume = box.get("volume_ml")
        words.append(f"{volume:g} mL" if volume else "volume not recorded")
    if box["place"]["surface"] == "ceiling":
        words.append("ceiling")
    return ", ".join(words)


def _ratings(device: Mapping[str, Any]) -> str:
    """What tells a device from others of its kind: the ways of a switch, the amperes."""
    words = ""
    if device.get("ways", 2) != 2:
        words += f" {device['ways']}-way"
    if device.get("amperes"):
        words += f" {device['amperes']:g} A"
    return words


def _cable(
    areas: Mapping[str, AreaStuff], node_area: Mapping[str, str], cable: Mapping[str, Any]
) -> None:
    """A cable belongs to the area of its end away from the panel."""
    area = areas[node_area[cable["ends"][1]]]
    name = _cable_words(cable)
    if length := cable.get("length_mm"):
        area.cable_m[name] += length / 1000
    else:
        area.unmeasured[name] += 1


def _cable_words(cable: Mapping[str, Any]) -> str:
    kind = cable["kind"]
    if kind in COMMUNICATIONS:
        name = kind.replace("_", " ")
    else:
        name = kind.upper()
    awg = ""
    if cable.get("awg"):
        awg = f" {cable['awg']}/{cable.get('insulated', 2)}"
    return f"{name}{awg}"


def _breaker(circuit: Mapping[str, Any]) -> str:
    protection = ""
    if circuit.get("protection"):
        protection = f" {circuit['protection'].upper()}"
    return f"{circuit['breaker_a']:g} A {circuit.get('poles', 1)}-pole{protection}"


def bring(kind: str, stuff: HouseStuff, area: str) -> list[str]:
    """What to bring for a task of that kind in that area, as the house says."""
    return list(_bring(kind, stuff, stuff.areas.get(area, AreaStuff())))


def _bring(kind: str, stuff: HouseStuff, area: AreaStuff) -> Iterator[str]:
    if kind == "rough-in":
        yield from _counted("box", area.boxes)
        for name, metres in sorted(area.cable_m.items()):
            yield f"{metres:.0f} m {name}"
        for name, count in sorted(area.unmeasured.items()):
            yield f"{name} for {count} runs whose length is not recorded"
        if area.braces:
            yield f"{area.braces} × brace"
    elif kind == "finish":
        yield from _counted("", area.devices)
        yield from _counted("", area.hung)
        yield from _counted("", area.plates)
        for name in area.appliances:
            yield f"connection for {name}"
    elif kind == "panel":
        yield from _counted("breaker", stuff.breakers)


def _counted(noun: str, things: Counter[str]) -> Iterator[str]:
    for name, count in sorted(things.items()):
        yield f"{count} × {noun}{' ' if noun else ''}{name}"
