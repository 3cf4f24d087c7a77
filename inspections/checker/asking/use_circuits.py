"""Circuits that belong to one use: the laundry's, the bathrooms', the garage's, the outdoors'."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.graph.supply import SuppliedDevice
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.power import Circuit
from inspections.checker.house.rooms import Room
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode
from inspections.checker.words import amperes, listed, plural


@dataclass(frozen=True)
class CircuitUse:
    """What a rule asks of the circuits of one use."""

    name: str
    """The rule."""
    word: str
    """The use, as a person calls it."""
    least: Limit
    """The smallest breaker."""
    belongs: Callable[[SuppliedDevice, str], bool]
    """Whether an outlet may be on a circuit of that id."""


def use_findings(
    this: Rule,
    site: HouseByCode,
    use: CircuitUse,
    wanted: dict[str, list[SuppliedDevice]],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """For each room with receptacles of the use: whether a circuit of its own feeds one."""
    for room_id, outlets in wanted.items():
        room = site.rooms[room_id]
        names: dict[str, None] = {}
        for each in outlets:
            names |= dict.fromkeys(site.supply.of(*each))
        circuits = []
        for name in names:
            circuits.append(site.circuits[name])
        found = []
        for circuit in circuits:
            found.append(_judged(site, use, circuit))
        boxes = []
        for outlet in outlets:
            boxes.append(outlet.box.id)
        data = {
            "use": use.word,
            "least": use.least.value,
            "circuits": found,
            "boxes": boxes,
        }
        yield Finding(this, room_id, _verdict(data), site.room_spot(room), data, limits)


def _verdict(data: dict[str, Any]) -> Verdict:
    if not data["circuits"]:
        return Verdict.UNKNOWN
    good = []
    for each in data["circuits"]:
        good.append(each["enough"] and not each["others"])
    if any(good):
        return Verdict.MEETS
    return Verdict.SHORT


def _judged(site: HouseByCode, use: CircuitUse, circuit: Circuit) -> dict[str, Any]:
    others = []
    for outlet in site.supply.outlets(circuit.id):
        if not use.belongs(outlet, circuit.id):
            others.append(_named(site, outlet))
    for appliance in site.supply.appliances[circuit.id]:
        others.append(appliance.name)
    return {
        "name": circuit.name,
        "breaker": circuit.breaker_a,
        "enough": circuit.breaker_a >= use.least.value,
        "others": list(dict.fromkeys(others)),
    }


def _named(site: HouseByCode, outlet: SuppliedDevice) -> str:
    kind = outlet.device.kind.value.replace("_", " ")
    return f"{kind} {outlet.box.id} in {site.rooms[outlet.box.room].name}"


def tell_use(finding: Finding) -> FindingWords:
    """The circuits that feed the use, and what else is on them."""
    data = finding.facts
    use, least, circuits = data["use"], amperes(data["least"]), data["circuits"]
    says = {
        Verdict.MEETS: f"A circuit for nothing but {use} feeds them here.",
        Verdict.SHORT: f"No circuit of {least} or more serves nothing but {use} here.",
        Verdict.UNKNOWN: f"Nobody recorded which circuit feeds {use} here.",
    }
    remedies = {
        Verdict.SHORT: f"Feed {use} from a circuit of {least} with nothing else on it.",
        Verdict.UNKNOWN: "Follow the cable and record the circuit.",
    }
    working = [_line(each) for each in circuits] or ["circuit: not recorded"]
    figure = plural(len(circuits), "circuit")
    limit = f"one of {least} for {use} alone"
    return verdict_words(finding, figure, limit, working, says, remedies)


def _line(circuit: dict[str, Any]) -> str:
    others = "nothing else on it"
    if circuit["others"]:
        others = f"also {listed(circuit['others'])}"
    return f"circuit {circuit['name']}, {amperes(circuit['breaker'])}: {others}"


def receptacles_of(site: HouseByCode, rooms: Iterable[Room]) -> dict[str, list[SuppliedDevice]]:
    """The single-pole receptacles of each of the rooms that has any."""
    by_room: dict[str, list[SuppliedDevice]] = {}
    for room in rooms:
        for box in site.receptacles_in[room.id]:
            for device in box.devices:
                if device.kind is DeviceKind.RECEPTACLE and device.poles == 1:
                    by_room.setdefault(room.id, []).append(SuppliedDevice(box, device))
    return by_room
