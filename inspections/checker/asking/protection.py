"""How far ground-fault and arc-fault protection reaches: from a breaker, or from a receptacle."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from enum import StrEnum

from config.messages.message import Message, Text, message
from inspections.checker.house.boxes import Box, Device
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Protection
from inspections.checker.site import HouseByCode

GROUND_FAULT: dict[str, Message] = {
    "NEC": message("protection.ground-fault.nec", "GFCI"),
    "CEC": message("protection.ground-fault.cec", "Class A GFCI"),
}
ARC_FAULT = message("protection.arc-fault", "AFCI")
DUAL = message("protection.dual", "{ground_fault} and AFCI")


def ground_fault(code: str) -> Text:
    """What protects against ground faults, in the term of the code."""
    return GROUND_FAULT[code]()


def protection(kind: Protection, code: str) -> Text:
    """What this protection is called by the code."""
    if kind is Protection.AFCI:
        return ARC_FAULT()
    if kind is Protection.DUAL:
        return DUAL(ground_fault=ground_fault(code))
    return ground_fault(code)


class FaultKind(StrEnum):
    """What is protected against."""

    GROUND = "ground fault"
    ARC = "arc fault"

    def opens(self, protection: Protection | None) -> bool:
        """Whether that protection opens on it."""
        if protection is None:
            return False
        if self is FaultKind.GROUND:
            return protection.ground_fault
        return protection.arc_fault


class Protector(StrEnum):
    """What protects a device."""

    BREAKER = "breaker"
    RECEPTACLE = "receptacle"


class Shield:
    """What protects each outlet against one kind of fault."""

    def __init__(self, site: HouseByCode, fault: FaultKind) -> None:
        self._site, self._fault = site, fault
        self._behind: dict[str, frozenset[str]] = {}

    def of(self, box: Box, device: Device) -> Protector | None:
        """What protects a device, if anything.

        A split receptacle is protected when both of its circuits are.
        """
        if self._fault.opens(device.protection):
            return Protector.RECEPTACLE
        protectors = []
        for circuit in self._site.supply.of(box, device):
            protectors.append(self._on(circuit, box))
        if protectors and all(protectors):
            return protectors[0]
        return None

    def _on(self, circuit: str, box: Box) -> Protector | None:
        if self._fault.opens(self._site.circuits[circuit].protection):
            return Protector.BREAKER
        if circuit not in self._behind:
            self._behind[circuit] = self._beyond(circuit)
        if box.id in self._behind[circuit]:
            return Protector.RECEPTACLE
        return None

    def _beyond(self, circuit: str) -> frozenset[str]:
        """The boxes that power reaches only by way of a receptacle that protects onward."""
        supply = self._site.supply
        guards = set()
        for box, device in supply.devices[circuit]:
            if device.protects_onward and self._fault.opens(device.protection):
                guards.add(box.id)
        if not guards:
            return frozenset()
        joined = joined_by(supply.cables[circuit])
        start = self._site.circuits[circuit].panel
        return reachable_nodes(joined, start) - reachable_nodes(joined, start, guards)


def joined_by(cables: Iterable[Cable]) -> defaultdict[str, list[str]]:
    """For each node, those it shares a cable with, itself among them."""
    joined: defaultdict[str, list[str]] = defaultdict(list)
    for cable in cables:
        nodes = cable.nodes
        for node in nodes:
            joined[node] += nodes
    return joined


def reachable_nodes(
    joined: Mapping[str, list[str]], start: str, stops: set[str] | frozenset[str] = frozenset()
) -> frozenset[str]:
    """Every node that can be walked to from the start, not going on from a stop."""
    seen, ahead = {start}, [start]
    while ahead:
        node = ahead.pop()
        if node in stops:
            continue
        for following in joined.get(node, ()):
            if following not in seen:
                seen.add(following)
                ahead.append(following)
    return frozenset(seen)
