"""Arc-fault protection of branch circuits by the rooms or receptacles they feed."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Value, message
from inspections.checker.asking.fixing import breaker_fixes
from inspections.checker.asking.lines import named_or_counted, parts_named_in
from inspections.checker.asking.protection import FaultKind, Shield
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.graph.supply import SIGNAL, SuppliedDevice
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.power import Protection

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "arc-fault-protection"
OK = message(f"{NAME}.ok", "Circuit {circuit} has AFCI protection wherever it is required.")
BARE = message(
    f"{NAME}.bare",
    "Circuit {circuit} has no AFCI protection at boxes {ids}.",
    one="Circuit {circuit} has no AFCI protection at box {ids}.",
)
BARE_COUNT = message(f"{NAME}.bare-count", "Circuit {circuit} has no AFCI protection at {n} boxes.")
INSTALL = message(
    f"{NAME}.remedy",
    "Install an AFCI breaker, or an AFCI receptacle at the first outlet where allowed.",
)
BREAKER = message(f"{NAME}.breaker", "Breaker: {breaker}.")
REQUIRED = message(f"{NAME}.required", "Required at: {boxes}.")
WITHOUT = message(f"{NAME}.without", "Without: {boxes}.")


@dataclass(frozen=True, slots=True)
class ArcFaultFacts:
    """The boxes of a circuit that need protection against arcs, and those without."""

    circuit: str
    breaker_a: float
    required: frozenset[str]
    bare: frozenset[str]


def tell(finding: Finding) -> FindingWords:
    """Where the circuit has no protection that it needs."""
    facts: ArcFaultFacts = finding.facts
    says = OK(circuit=facts.circuit)
    remedy: Value = ""
    if facts.bare:
        says = named_or_counted(BARE, BARE_COUNT, facts.bare, circuit=facts.circuit)
        remedy = INSTALL()
    working = (
        BREAKER(breaker=Amperes(facts.breaker_a)),
        REQUIRED(boxes=parts_named_in(facts.required)),
        WITHOUT(boxes=parts_named_in(facts.bare)),
    )
    required = len(facts.required)
    return FindingWords(says, required - len(facts.bare), required, working, remedy)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """A breaker that protects."""
    yield from breaker_fixes((finding.facts.circuit,), Protection.AFCI)


@rule(
    NAME,
    topic="circuits",
    title="Arc-fault protection",
    tell=tell,
    facts=ArcFaultFacts,
    fixes=_fixes,
)
def arc_fault_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Circuits of 120 V up to 20 A are protected against arcs.

    One code goes by the rooms in which a circuit has outlets or switches; the other requires it
    wherever a circuit feeds receptacles, but for those of bathrooms, kitchen counters and a few
    appliances when nothing else is on the circuit.
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
    boxes = set()
    bare = set()
    for outlet in asked:
        boxes.add(outlet.box.id)
        if not shield.of(*outlet):
            bare.add(outlet.box.id)
    facts = ArcFaultFacts(circuit.id, circuit.breaker_a, frozenset(boxes), frozenset(bare))
    verdict = Verdict.OK
    if bare:
        verdict = Verdict.NOT_TO_CODE
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), facts, limits)


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
