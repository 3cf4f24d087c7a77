"""Arc-fault protection of branch circuits by the rooms or receptacles they feed."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.protection import FaultKind, Shield
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SIGNAL, SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed

NAME = "arc-fault-protection"


def tell(finding: Finding) -> FindingWords:
    """What the circuit feeds that needs protection, and what has it."""
    data = finding.facts
    bare, asked = listed(data["bare"]), listed(data["asked"])
    figure = f"{len(data['bare'])} of {len(data['asked'])} not protected"
    says = {
        Verdict.MEETS: "Everything on this circuit that needs arc-fault protection has it.",
        Verdict.SHORT: f"No arc-fault protection at {bare}.",
    }
    remedies = {
        Verdict.SHORT: "Fit an arc-fault breaker, or what the code lets stand at the first outlet."
    }
    working = (
        f"circuit of {amperes(data['breaker'])} at 120 V",
        f"asked for at: {asked}",
        f"without: {bare or 'none'}",
    )
    return verdict_words(finding, figure, "arc-fault protection", working, says, remedies)


@rule(NAME, topic="circuits", title="Arc-fault protection", tell=tell)
def arc_fault_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Circuits of 120 V up to 20 A are protected against arcs.

    One code asks by the rooms in which a circuit has outlets or switches; the other wherever a
    circuit feeds receptacles, but for those of bathrooms, kitchen counters and a few appliances
    when nothing else is on the circuit.
    """
    book = site.rulebook
    most = book.get(f"{NAME}.up_to_a")
    if most is None:
        return
    shield = Shield(site, FaultKind.ARC)
    rooms = book.get(f"{NAME}.rooms")
    limits: tuple[Limit, ...]
    if rooms:
        limits = (rooms, most)
    else:
        limits = _spared(site)
    for circuit in site.house.circuits:
        if circuit.poles > 1 and not circuit.shares_neutral_with:
            continue
        if circuit.breaker_a > most.value:
            continue
        devices = site.supply.devices[circuit.id]
        if rooms:
            asked = _by_room(site, devices, rooms)
        else:
            asked = _by_receptacle(site, devices)
        if asked:
            yield _circuit(this, site, shield, circuit, asked, limits)


def _circuit(
    this: Rule,
    site: HouseByCode,
    shield: Shield,
    circuit: Circuit,
    asked: list[SuppliedDevice],
    limits: tuple[Limit, ...],
) -> Finding:
    boxes = {}
    bare = {}
    for outlet in asked:
        boxes[outlet.box.id] = True
        if not shield.of(*outlet):
            bare[outlet.box.id] = True
    data: dict[str, Any] = {
        "breaker": circuit.breaker_a,
        "asked": list(boxes),
        "bare": list(bare),
    }
    verdict = Verdict.MEETS
    if bare:
        verdict = Verdict.SHORT
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, limits)


def _by_room(
    site: HouseByCode, devices: list[SuppliedDevice], rooms: Limit
) -> list[SuppliedDevice]:
    """The outlets and switches in the rooms that the code names."""
    outlets: list[SuppliedDevice] = []
    for outlet in devices:
        if site.rooms[outlet.box.room].kind in rooms.value and outlet.device.kind not in SIGNAL:
            outlets.append(outlet)
    return outlets


def _by_receptacle(site: HouseByCode, devices: list[SuppliedDevice]) -> list[SuppliedDevice]:
    """The receptacles of a circuit, unless each of them is one that the code spares."""
    receptacles = []
    for o in devices:
        if o.device.kind is DeviceKind.RECEPTACLE:
            receptacles.append(o)
    if all(_is_spared(site, o, len(receptacles)) for o in receptacles):
        return []
    return receptacles


def _is_spared(site: HouseByCode, outlet: SuppliedDevice, count: int) -> bool:
    book, word = site.rulebook, (outlet.device.dedicated_to or "").lower()
    if site.rooms[outlet.box.room].kind in book.value(f"{NAME}.spared_rooms"):
        return True
    if any(each in word for each in book.value(f"{NAME}.spared_appliances")):
        return True
    if count == 1 and any(each in word for each in book.value(f"{NAME}.spared_alone")):
        return True
    over = is_general(outlet.device) and serves_counter(site, outlet.box)
    return over and book.value(f"{NAME}.spares_counters")


def _spared(site: HouseByCode) -> tuple[Limit, ...]:
    names = ("up_to_a", "spared_rooms", "spared_appliances", "spared_alone", "spares_counters")
    limits = []
    for name in names:
        limits.append(site.rulebook[f"{NAME}.{name}"])
    return tuple(limits)
