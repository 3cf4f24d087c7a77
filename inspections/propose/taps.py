"""What wants a circuit, sorted by the use that the rulebook keeps circuits for."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from inspections.checker.asking.receptacles import is_general, kept_for, serves_counter
from inspections.checker.graph.lights import SWITCHES
from inspections.checker.graph.supply import ALARMS, SIGNAL, TAKES_CURRENT
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind
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
    rank = {room.id: number for number, room in enumerate(house.rooms)}
    taps = [*sorter.taps(loose), *_appliances(house, site)]
    return sorted(taps, key=lambda tap: rank[tap.room])


def _appliances(house: House, site: HouseByCode) -> Iterator[Tap]:
    fed = set()
    for on_circuit in site.supply.appliances.values():
        for appliance in on_circuit:
            fed.add(appliance.id)
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
                touching = [group for group in groups if group & mine]
                for group in touching:
                    groups.remove(group)
                    mine |= group
                groups.append(mine)
        return [sorted(group) for group in groups]

    def _group(self, group: list[tuple[str, int]]) -> Tap:
        outlets = 0
        lit_rooms = []
        for name, index in group:
            box = self.site.boxes[name]
            kind = box.devices[index].kind
            outlets += kind in TAKES_CURRENT
            if kind is DeviceKind.LUMINAIRE:
                lit_rooms.append(box.room)
        room = self.site.boxes[group[0][0]].room
        if lit_rooms:
            room = lit_rooms[0]
        return Tap(TapUse.GENERAL, room, tuple(group), outlets, lit=bool(lit_rooms))

    def _use(self, box: Box, device: Device) -> TapUse:
        """The use of a device by itself."""
        if device.kind is not DeviceKind.RECEPTACLE:
            return TapUse.GENERAL
        if _is_kept_apart(device):
            return TapUse.OWN
        if self._is_for_counter(box, device):
            return TapUse.COUNTER
        return self._use_of_place(box)

    def _is_for_counter(self, box: Box, device: Device) -> bool:
        """Whether the rulebook keeps circuits for receptacles at such a counter."""
        if "counter-circuits.most" not in self.book:
            return False
        if self.site.rooms[box.room].kind is not RoomKind.KITCHEN:
            return False
        return is_general(device) and serves_counter(self.site, box)

    def _use_of_place(self, box: Box) -> TapUse:
        """The use of a receptacle by the room in which it is."""
        book, kind = self.book, self.site.rooms[box.room].kind
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


def _is_kept_apart(receptacle: Device) -> bool:
    """Whether it is for one thing that has a circuit to itself: not for a door's opener or a
    washer, which share theirs.
    """
    word = (receptacle.dedicated_to or "").lower()
    return bool(word) and "opener" not in word and not word.startswith("wash")


def named_of(site: HouseByCode, tap: Tap) -> str:
    """What a tap with a circuit of its own is called."""
    for appliance in site.house.appliances:
        if appliance.id == tap.appliance:
            return appliance.name
    box, index = tap.devices[0]
    return (site.boxes[box].devices[index].dedicated_to or "receptacle").capitalize()
