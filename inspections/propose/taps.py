"""What wants a circuit, sorted by the use that the rulebook keeps circuits for."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from inspections.checker.asking.receptacles import is_general, kept_for, serves_counter
from inspections.checker.graph.lights import SWITCHES
from inspections.checker.graph.supply import ALARMS, SIGNAL, TAKES_CURRENT
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind
from inspections.checker.house.power import Appliance
from inspections.checker.house.rooms import RoomKind
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)


class TapUse(StrEnum):
    """What a circuit is for: a use that the rulebook keeps it for, or general."""

    OWN = "own"
    COUNTER = "counter"
    SMALL = "small appliances"
    LAUNDRY = "laundry"
    BATH = "bathrooms"
    GARAGE = "garage"
    OUTDOOR = "outdoors"
    GENERAL = "general"


@dataclass(frozen=True, slots=True)
class Tap:
    """What must be on one circuit together: a receptacle, a light with its switches, the alarms."""

    use: TapUse
    room: str
    """The room that it counts for."""
    devices: tuple[tuple[str, int], ...] = ()
    """Boxes and the places of devices in them."""
    outlets: int = 1
    """How many of them count as outlets."""
    appliance: str = ""
    lit: bool = False
    """Whether it has a light."""
    alarms: bool = False


def taps_of(house: House, book: Rulebook) -> list[Tap]:
    """Every device and appliance without a circuit, in the order of the rooms."""
    site = HouseByCode(house, book)
    sorter = _Sorter(site)
    loose: dict[str, list[tuple[str, int]]] = {}
    for box in house.boxes:
        for index, device in enumerate(box.devices):
            if device.kind not in SIGNAL and not site.supply.of(box, device):
                loose.setdefault(box.id, []).append((box.id, index))
    rank = {}
    for number, room in enumerate(house.rooms):
        rank[room.id] = number
    found = [*sorter.taps(loose), *_appliances(house, site)]
    return sorted(found, key=lambda tap: rank[tap.room])


def _appliances(house: House, site: HouseByCode) -> Iterator[Tap]:
    fed = set()
    for on in site.supply.appliances.values():
        for a in on:
            fed.add(a.id)
    for appliance in house.appliances:
        if appliance.id not in fed:
            yield Tap(TapUse.OWN, appliance.room, (), 1, appliance.id)


class _Sorter:
    def __init__(self, site: HouseByCode) -> None:
        self.site, self.book = site, site.rulebook
        self.garages = any(room.kind is RoomKind.GARAGE for room in site.house.rooms)
        self.washers = {box.room for box in site.house.boxes if kept_for(box, "wash")}

    def taps(self, loose: dict[str, list[tuple[str, int]]]) -> Iterator[Tap]:
        lit: set[tuple[str, int]] = set()
        for group in self._groups(loose):
            lit.update(group)
            yield self._group(group)
        alarms: list[tuple[str, int]] = []
        for name, devices in loose.items():
            box = self.site.boxes[name]
            for at in devices:
                device = box.devices[at[1]]
                if device.kind in ALARMS:
                    alarms.append(at)
                elif at not in lit:
                    outlets = int(device.kind in TAKES_CURRENT)
                    yield Tap(self._use(box, device), box.room, (at,), outlets)
        if alarms:
            room = self.site.boxes[alarms[0][0]].room
            yield Tap(TapUse.GENERAL, room, tuple(alarms), len(alarms), alarms=True)

    def _groups(self, loose: dict[str, list[tuple[str, int]]]) -> list[list[tuple[str, int]]]:
        """Lights with all that switches them, joined where they share a switch."""
        groups: list[set[tuple[str, int]]] = []
        for name, devices in loose.items():
            for at in devices:
                device = self.site.boxes[name].devices[at[1]]
                if device.kind not in SWITCHES or not device.controls:
                    continue
                mine = {at}
                for target in device.controls:
                    mine.update(loose.get(target, ()))
                touching = []
                for group in groups:
                    if group & mine:
                        touching.append(group)
                for group in touching:
                    groups.remove(group)
                    mine |= group
                groups.append(mine)
        in_order: list[list[tuple[str, int]]] = []
        for group in groups:
            in_order.append(sorted(group))
        return in_order

    def _group(self, group: list[tuple[str, int]]) -> Tap:
        kinds = []
        for b, i in group:
            kinds.append((self.site.boxes[b], self.site.boxes[b].devices[i]))
        outlets = sum(device.kind in TAKES_CURRENT for _, device in kinds)
        lights = []
        for box, device in kinds:
            if device.kind is DeviceKind.LUMINAIRE:
                lights.append(box.room)
        if lights:
            room = lights[0]
        else:
            room = kinds[0][0].room
        return Tap(TapUse.GENERAL, room, tuple(group), outlets, lit=bool(lights))

    def _use(self, box: Box, device: Device) -> TapUse:
        """The use of a device by itself."""
        if device.kind is not DeviceKind.RECEPTACLE:
            return TapUse.GENERAL
        kind, word = self.site.rooms[box.room].kind, (device.dedicated_to or "").lower()
        if word and "opener" not in word and not word.startswith("wash"):
            return TapUse.OWN
        book = self.book
        counts = kind is RoomKind.KITCHEN and is_general(device) and serves_counter(self.site, box)
        if counts and "counter-circuits.most" in book:
            return TapUse.COUNTER
        if kind in book.value("small-appliance-circuits.rooms", ()):
            return TapUse.SMALL
        laundry = kind is RoomKind.LAUNDRY or box.room in self.washers
        if laundry and "laundry-circuit.breaker_a" in book:
            return TapUse.LAUNDRY
        if kind in book.value("bathroom-circuit.rooms", ()):
            return TapUse.BATH
        if kind is RoomKind.GARAGE and "garage-circuit.breaker_a" in book:
            return TapUse.GARAGE
        if kind in OUTSIDE:
            return self._outdoors()
        return TapUse.GENERAL

    def _outdoors(self) -> TapUse:
        if "outdoor-circuit.breaker_a" in self.book:
            return TapUse.OUTDOOR
        shared = self.garages and self.book.value("garage-circuit.outdoors")
        if shared:
            return TapUse.GARAGE
        return TapUse.GENERAL


def named_of(site: HouseByCode, tap: Tap) -> str:
    """What a tap with a circuit of its own is called."""
    if tap.appliance:
        appliances: dict[str, Appliance] = {}
        for a in site.house.appliances:
            appliances[a.id] = a
        return appliances[tap.appliance].name
    box, index = tap.devices[0]
    return (site.boxes[box].devices[index].dedicated_to or "receptacle").capitalize()
