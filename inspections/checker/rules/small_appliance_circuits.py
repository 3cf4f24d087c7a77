"""Circuits for small appliances in kitchens and dining rooms."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..house.rooms import Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed, plural

NAME = "small-appliance-circuits"


def tell(finding: Finding) -> FindingWords:
    """The circuits of a kitchen, or one of them and what else is on it."""
    if "asked" in finding.facts:
        return _tell_kitchen(finding)
    return _tell_circuit(finding)


def _tell_kitchen(finding: Finding) -> FindingWords:
    data = finding.facts
    found, least = plural(len(data["circuits"]), "circuit"), amperes(data["least"])
    asked = plural(data["asked"], "circuit")
    says = {
        Verdict.MEETS: f"The counters of this kitchen are fed by {found} of {least}.",
        Verdict.SHORT: f"The counters of this kitchen are fed by {found} of {least}; "
        f"{asked} are asked.",
    }
    remedies = {Verdict.SHORT: f"Feed the counter receptacles from {asked} of {least} or more."}
    feeding = listed(data["circuits"]) or "none"
    working = (f"circuits of {least} with a counter receptacle: {feeding}",)
    return verdict_words(finding, found, f"at least {asked}", working, says, remedies)


def _tell_circuit(finding: Finding) -> FindingWords:
    data = finding.facts
    breaker, least, others = amperes(data["breaker"]), amperes(data["least"]), data["others"]
    says = {
        Verdict.MEETS: f"This {breaker} circuit feeds nothing but such receptacles.",
        Verdict.SHORT: f"This circuit also feeds {listed(others)}."
        if others
        else f"This circuit feeds kitchen receptacles at {breaker}; {least} is asked.",
    }
    remedies = {
        Verdict.SHORT: "Move what does not belong to it to another circuit."
        if others
        else f"Fit a {least} breaker on 12 AWG or larger."
    }
    working = (
        f"breaker {breaker}, {least} asked",
        f"receptacles in kitchen, pantry or dining room: {listed(data['boxes'])}",
        f"others: {listed(others) or 'none'}",
    )
    return verdict_words(finding, breaker, f"{least}, nothing else", working, says, remedies)


@rule(NAME, topic="circuits", title="Small-appliance circuits", tell=tell)
def small_appliance_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles of kitchen, pantry and dining room are on small-appliance circuits.

    At least two of them reach the counters of each kitchen, and they feed nothing else. An
    appliance such as a refrigerator may have a circuit of its own instead.
    """
    book = site.rulebook
    if f"{NAME}.circuits" not in book:
        return
    rooms, asked, least = (book[f"{NAME}.{x}"] for x in ("rooms", "circuits", "breaker_a"))
    general = _general_circuits(site, rooms)
    for room in site.house.rooms:
        if room.kind is RoomKind.KITCHEN:
            yield _kitchen(this, site, room, general, (asked, least))
    for name, outlets in general.items():
        yield _circuit(this, site, site.circuits[name], outlets, (rooms, least))


def _general_circuits(site: HouseByCode, rooms: Limit) -> dict[str, list[SuppliedDevice]]:
    """The circuits with a receptacle for general use in those rooms, and their outlets there."""
    names = set()
    for room in site.house.rooms:
        if room.kind in rooms.value:
            names.add(room.id)
    general = {}
    for circuit in site.house.circuits:
        here = []
        for outlet in site.supply.outlets(circuit.id):
            if outlet.box.room in names:
                here.append(outlet)
        if any(is_general(outlet.device) for outlet in here):
            general[circuit.id] = here
    return general


def _kitchen(
    this: Rule,
    site: HouseByCode,
    room: Room,
    general: dict[str, list[SuppliedDevice]],
    limits: tuple[Limit, Limit],
) -> Finding:
    """Whether circuits enough, of breakers large enough, reach the counters of a kitchen."""
    asked, least = limits
    circuits = []
    for name, outlets in general.items():
        circuit = site.circuits[name]
        if circuit.breaker_a >= least.value and _reach_counter(site, room, outlets):
            circuits.append(circuit.name)
    data = {"circuits": circuits, "asked": asked.value, "least": least.value}
    verdict = Verdict.SHORT
    if len(circuits) >= asked.value:
        verdict = Verdict.MEETS
    return Finding(this, room.id, verdict, site.room_spot(room), data, limits)


def _reach_counter(site: HouseByCode, room: Room, outlets: list[SuppliedDevice]) -> bool:
    for outlet in outlets:
        if outlet.box.room == room.id and serves_counter(site, outlet.box):
            return True
    return False


def _circuit(
    this: Rule,
    site: HouseByCode,
    circuit: Circuit,
    here: list[SuppliedDevice],
    limits: tuple[Limit, ...],
) -> Finding:
    mine = []
    for o in here:
        if _belongs(o):
            mine.append(o)
    others = []
    for o in site.supply.outlets(circuit.id):
        if o not in mine:
            others.append(o)
    words = []
    for o in others:
        words.append(f"{o.device.kind.value.replace('_', ' ')} {o.box.id}")
    for appliance in site.supply.appliances[circuit.id]:
        words.append(appliance.name)
    least = limits[-1].value
    ids = []
    for o in mine:
        ids.append(o.box.id)
    data: dict[str, Any] = {
        "breaker": circuit.breaker_a,
        "least": least,
        "others": list(dict.fromkeys(words)),
        "boxes": list(dict.fromkeys(ids)),
    }
    meets = circuit.breaker_a >= least and not words
    verdict = Verdict.SHORT
    if meets:
        verdict = Verdict.MEETS
    spot = site.circuit_spot(circuit)
    return Finding(this, f"circuit/{circuit.id}", verdict, spot, data, limits)


def _belongs(outlet: SuppliedDevice) -> bool:
    """A receptacle in the open; one within a cabinet is a fixed appliance's."""
    device = outlet.device
    fixed = device.in_cabinet and device.dedicated_to
    return device.kind is DeviceKind.RECEPTACLE and not fixed
