"""Which switches turn on which lights, read off the wiring unless somebody recorded it.

A light is switched by the switch box that feeds it, or by one at the end of a loop from it.
Lights joined by cable without a switch between them are one group. From a three-way switch the
travellers lead on to the next, by cables of three insulated conductors and more.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from inspections.checker.graph.wiring import Wiring
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind
from inspections.checker.house.cables import Cable

SWITCHES = (DeviceKind.SWITCH, DeviceKind.DIMMER)
TRAVELLERS = 3  # insulated conductors between two three-way switches, at the least


class Switcher(NamedTuple):
    """A switch box that turns a light on and off."""

    box: str
    ways: int | None
    """2, 3 or 4; None when its switches differ and which one it is, is not recorded yet."""


def is_light(box: Box) -> bool:
    """Whether a box is a lighting outlet and holds no switch."""
    kinds = set()
    for device in box.devices:
        kinds.add(device.kind)
    return DeviceKind.LUMINAIRE in kinds and kinds.isdisjoint(SWITCHES)


def switches_of(box: Box) -> list[Device]:
    """The light switches and dimmers in a box."""
    devices: list[Device] = []
    for device in box.devices:
        if device.kind in SWITCHES:
            devices.append(device)
    return devices


class Lights:
    """The lights of a house and what switches them."""

    def __init__(self, house: House, wiring: Wiring) -> None:
        self.boxes = {box.id: box for box in house.boxes}
        self.wiring = wiring

    def switchers(self, box: str) -> list[Switcher]:
        """What turns on the light or receptacle at a box, each box once."""
        return self._switchers.get(box, [])

    def switched_by(self, box: str) -> list[str]:
        """The boxes whose lights or receptacles a switch box turns on."""
        return self._switched.get(box, [])

    @cached_property
    def _switched(self) -> dict[str, list[str]]:
        found: defaultdict[str, list[str]] = defaultdict(list)
        for light, switchers in self._switchers.items():
            for switcher in switchers:
                found[switcher.box].append(light)
        return dict(found)

    @cached_property
    def _switchers(self) -> dict[str, list[Switcher]]:
        by_target: defaultdict[str, dict[str, Switcher]] = defaultdict(dict)
        for box in self.boxes.values():
            for device in switches_of(box):
                for target in device.controls or ():
                    by_target[target].setdefault(box.id, Switcher(box.id, device.ways))
        for group in self._groups():
            switchers = self._read_off(group)
            for name in sorted(group):  # the same house says the same in every process
                if is_light(self.boxes[name]):
                    for switcher in switchers:
                        by_target[name].setdefault(switcher.box, switcher)
        return {name: list(switchers.values()) for name, switchers in by_target.items()}

    def _groups(self) -> Iterator[set[str]]:
        """Each light with the lights that it is joined to, each group once."""
        seen: set[str] = set()
        for box in self.boxes.values():
            if is_light(box) and box.id not in seen:
                group = self._group(box.id)
                seen |= group
                yield group

    def _group(self, start: str) -> set[str]:
        """The lights and plain junction boxes joined to a light without a switch between."""
        group, todo = {start}, [start]
        while todo:
            name = todo.pop()
            for _, other in self._joined(name):
                box = self.boxes.get(other)
                if box and other not in group and (is_light(box) or not box.devices):
                    group.add(other)
                    todo.append(other)
        return group

    def _joined(self, name: str) -> Iterable[tuple[Cable, str]]:
        for entry in self.wiring.power_at(name):
            if not entry.passes:
                first, second = entry.cable.ends
                yield entry.cable, second if first == name else first

    def _read_off(self, group: set[str]) -> list[Switcher]:
        """The switch boxes beside a group that turn it on, and whatever three-way switches lie
        beyond them."""
        switchers: dict[str, Switcher] = {}
        todo = sorted(self._beside(group), reverse=True)
        while todo:
            name = todo.pop()
            ways = self._ways(name)
            if name not in switchers:
                switchers[name] = Switcher(name, ways.pop() if len(ways) == 1 else None)
                todo += self._beyond(name)
        return list(switchers.values())

    def _beside(self, group: set[str]) -> set[str]:
        """The switch boxes that feed a group or end a loop from it.

        A light with a loop is fed unswitched, so that a box that feeds it has no part in it,
        unless both hold three-way switches.
        """
        feeds, loops = self._feeds_and_loops(group)
        if not loops:
            return feeds
        if any(min(self._ways(name)) < TRAVELLERS for name in loops):
            return loops
        beside = set(loops)
        for name in feeds:
            if max(self._ways(name)) >= TRAVELLERS:
                beside.add(name)
        return beside

    def _feeds_and_loops(self, group: set[str]) -> tuple[set[str], set[str]]:
        """The switch boxes whose cables come to a group, and those that a cable from it ends at."""
        feeds: set[str] = set()
        loops: set[str] = set()
        for name in group:
            for cable, other in self._joined(name):
                if other in self.boxes and other not in group and self._ways(other):
                    if cable.ends[0] == other:
                        feeds.add(other)
                    elif len(self.wiring.power_at(other)) == 1:
                        loops.add(other)
        return feeds, loops

    def _beyond(self, name: str) -> list[str]:
        """The boxes that travellers lead to from a box with a three-way switch."""
        if max(self._ways(name)) < TRAVELLERS:
            return []
        others: list[str] = []
        for cable, other in self._joined(name):
            if (
                cable.insulated >= TRAVELLERS
                and other in self.boxes
                and max(self._ways(other), default=0) >= TRAVELLERS
            ):
                others.append(other)
        return others

    def _ways(self, name: str) -> set[int]:
        """The kinds of switch in a box whose lights are not recorded yet."""
        switches = switches_of(self.boxes[name])
        ways: set[int] = set()
        for device in switches:
            if device.controls is None:
                ways.add(device.ways)
        return ways
