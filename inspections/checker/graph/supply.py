"""Circuits as the house has them: their cables, their outlets, and what their breakers reach."""

from collections import defaultdict
from typing import NamedTuple

from inspections.checker.graph.wiring import Wiring
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Appliance

SIGNAL = frozenset({DeviceKind.DATA, DeviceKind.COAX, DeviceKind.PHONE, DeviceKind.CHIME})
ALARMS = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.COMBINED_ALARM})
TAKES_CURRENT = ALARMS | {
    DeviceKind.RECEPTACLE,
    DeviceKind.LUMINAIRE,
    DeviceKind.CEILING_FAN,
    DeviceKind.EXHAUST_FAN,
}
"""What stands at an outlet; a switch only stands on the way to one."""


class SuppliedDevice(NamedTuple):
    """A device on a circuit and the box that holds it."""

    box: Box
    device: Device


class Supply:
    """What each circuit supplies. Built in one pass over boxes and cables."""

    def __init__(self, house: House, wiring: Wiring) -> None:
        self.partners: defaultdict[str, list[str]] = defaultdict(list)
        """The circuits that share a neutral with each."""
        for circuit in house.circuits:
            if circuit.shares_neutral_with:
                self.partners[circuit.id].append(circuit.shares_neutral_with)
                self.partners[circuit.shares_neutral_with].append(circuit.id)
        self.cables: defaultdict[str, list[Cable]] = defaultdict(list)
        self.devices: defaultdict[str, list[SuppliedDevice]] = defaultdict(list)
        self.appliances: defaultdict[str, list[Appliance]] = defaultdict(list)
        self.astray: list[SuppliedDevice] = []
        """Devices that need power and whose circuit cannot be told."""
        self._wiring = wiring
        for cable in house.cables:
            if cable.circuit is not None and cable.kind.carries_power:
                self.cables[cable.circuit].append(cable)
        self._feed_appliances(house)
        for box in house.boxes:
            for device in box.devices:
                self._place(box, device)

    def _feed_appliances(self, house: House) -> None:
        """Appliances by circuit: those at an end of its cables, then those that name it."""
        appliances = {}
        for appliance in house.appliances:
            appliances[appliance.id] = appliance
        for name, cables in self.cables.items():
            ends: dict[str, None] = {}
            for cable in cables:
                ends |= dict.fromkeys(cable.ends)
            self.appliances[name] = [appliances[end] for end in ends if end in appliances]
        for appliance in house.appliances:
            if not appliance.circuit:
                continue
            there = self.appliances[appliance.circuit]
            if all(each.id != appliance.id for each in there):
                there.append(appliance)

    def _place(self, box: Box, device: Device) -> None:
        names = self.of(box, device)
        for name in names:
            self.devices[name].append(SuppliedDevice(box, device))
        if not names and device.kind not in SIGNAL:
            self.astray.append(SuppliedDevice(box, device))

    def of(self, box: Box, device: Device) -> tuple[str, ...]:
        """The circuits of a device: those it names, or the only one whose cables come to its box.

        A split receptacle has two. Empty when it names none and its cables do not tell.
        """
        both = dict.fromkeys((device.circuit, device.second_circuit))
        names = []
        for name in both:
            if name:
                names.append(name)
        named = tuple(names)
        if named or device.kind in SIGNAL:
            return named
        cables = self._wiring.power_at(box.id)
        circuits = []
        for entry in cables:
            circuits.append(entry.cable.circuit)
        here = dict.fromkeys(circuits)
        (only,) = here if len(here) == 1 else (None,)
        if only:
            return (only,)
        return ()

    def outlets(self, circuit: str) -> list[SuppliedDevice]:
        """The devices of a circuit that take current."""
        outlets: list[SuppliedDevice] = []
        for outlet in self.devices[circuit]:
            if outlet.device.kind in TAKES_CURRENT:
                outlets.append(outlet)
        return outlets
