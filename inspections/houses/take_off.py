"""What a recorded house asks of a crew: counts for planning, and what to bring.

It reads the file as it was kept, which was checked when it was recorded: a shop's houses are
gone through at once, and only a few of their figures are needed.
"""

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from config.messages.message import Amperes, CableRun, Joined, Value, Volume
from config.messages.saying import said
from inspections.houses import take_off_messages as words
from jobs.planning.counts import AreaCounts

HUNG = {"luminaire", "ceiling_fan", "exhaust_fan", "smoke_alarm", "co_alarm", "combined_alarm"}


@dataclass
class AreaStuff:
    """What belongs to one area."""

    boxes: Counter[Value] = field(default_factory=Counter)
    cable_m: Counter[Value] = field(default_factory=Counter)
    unmeasured: Counter[Value] = field(default_factory=Counter)
    braces: int = 0
    holes: int = 0
    devices: Counter[Value] = field(default_factory=Counter)
    hung: Counter[Value] = field(default_factory=Counter)
    plates: Counter[Value] = field(default_factory=Counter)
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
    breakers: Counter[Value]
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
        if device["kind"] in HUNG:
            area.hung[words.device_name(device["kind"])] += 1
        else:
            area.devices[_device_words(device)] += 1
    if box["place"]["surface"] == "wall" and box.get("devices"):
        area.plates[words.PLATE(n=box.get("gangs", 1))] += 1


def _box_words(box: Mapping[str, Any]) -> Value:
    """What box to bring: of what, and of which stock or how large."""
    parts: list[Value] = [words.material_name(box.get("material", "nonmetallic"))]
    if stock := box.get("stock"):
        parts.append(str(stock))
    else:
        parts.append(words.GANGS(n=box.get("gangs", 1)))
        volume = box.get("volume_ml")
        parts.append(Volume(volume) if volume else words.NO_VOLUME())
    if box["place"]["surface"] == "ceiling":
        parts.append(words.CEILING())
    return Joined(tuple(parts), ", ")


def _device_words(device: Mapping[str, Any]) -> Value:
    """A device with what tells it from others: the ways of a switch, the amperes."""
    named = words.device_name(device["kind"])
    if device.get("ways", 2) != 2:
        named = words.WAYS(n=device["ways"], kind=named)
    if device.get("amperes"):
        return Joined((named, Amperes(device["amperes"])))
    return named


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


def _cable_words(cable: Mapping[str, Any]) -> Value:
    named = words.cable_name(cable["kind"])
    if cable.get("awg"):
        return Joined((named, f"{cable['awg']}/{cable.get('insulated', 2)}"))
    return named


def _breaker(circuit: Mapping[str, Any]) -> Value:
    rating, poles = Amperes(circuit["breaker_a"]), circuit.get("poles", 1)
    protection = circuit.get("protection")
    if not protection:
        return words.BREAKER(rating=rating, n=poles)
    named: Value = protection.upper()
    if protection == "dual":
        named = words.DUAL()
    return words.BREAKER_PROTECTED(rating=rating, n=poles, protection=named)


def by_name(things: Mapping[Value, Any]) -> list[tuple[Value, Any]]:
    """Things with how much of each, in the order of their English names."""
    return sorted(things.items(), key=lambda each: said(each[0]))


def bring(kind: str, stuff: HouseStuff, area: str) -> list[Value]:
    """What to bring for a task of that kind in that area, as the house says."""
    return list(_bring(kind, stuff, stuff.areas.get(area, AreaStuff())))


def _bring(kind: str, stuff: HouseStuff, area: AreaStuff) -> Iterator[Value]:
    if kind == "rough-in":
        yield from _for_rough_in(area)
    elif kind == "finish":
        for things in (area.devices, area.hung, area.plates):
            for name, count in by_name(things):
                yield words.BRING_COUNTED(n=count, what=name)
        for appliance in area.appliances:
            yield words.BRING_CONNECTION(appliance=appliance)
    elif kind == "panel":
        for name, count in by_name(stuff.breakers):
            yield words.BRING_BREAKERS(n=count, what=name)


def _for_rough_in(area: AreaStuff) -> Iterator[Value]:
    for name, count in by_name(area.boxes):
        yield words.BRING_BOXES(n=count, what=name)
    for name, metres in by_name(area.cable_m):
        yield words.BRING_CABLE(length=CableRun(metres), cable=name)
    for name, count in by_name(area.unmeasured):
        yield words.BRING_UNMEASURED(cable=name, n=count)
    if area.braces:
        yield words.BRING_BRACES(n=area.braces)
