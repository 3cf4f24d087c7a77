"""Circuits for small appliances in kitchens and dining rooms."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Value, message
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.on_circuit import (
    ALSO_FEEDS,
    MOVE,
    OTHERS,
    CircuitLoad,
    appliance_load,
    device_load,
    every_load,
    few_loads,
)
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..house.rooms import Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "small-appliance-circuits"
COUNTERS = message(
    f"{NAME}.counters",
    "The counters here have {n} circuits of {least}; {required} required.",
    one="The counters here have {n} circuit of {least}; {required} required.",
)
NO_CIRCUIT = message(
    f"{NAME}.none", "The counters here have no circuit of {least}; {required} required."
)
BRING = message(
    f"{NAME}.counters.remedy",
    "Bring {n} more to the counter receptacles.",
    one="Bring one more to the counter receptacles.",
)
FEEDING = message(f"{NAME}.counters.feeding", "circuits with a counter receptacle: {circuits}")
FEEDS_ONLY = message(
    f"{NAME}.ok", "This {breaker} circuit feeds kitchen, pantry and dining receptacles only."
)
SMALL = message(f"{NAME}.small", "This circuit's breaker is {breaker}; {least} minimum.")
ENLARGE = message(f"{NAME}.small.remedy", "Fit a {least} breaker on 12 AWG or larger.")
BREAKER = message(f"{NAME}.breaker", "breaker {breaker}; {least} minimum")
BOXES = message(f"{NAME}.boxes", "receptacles in kitchen, pantry or dining room: {boxes}")


@dataclass(frozen=True, slots=True)
class SmallApplianceKitchenFacts:
    """The circuits that reach the counters of a kitchen, large enough, and how many must."""

    circuits: frozenset[str]
    required: int
    least_a: float


@dataclass(frozen=True, slots=True)
class SmallApplianceFacts:
    """A circuit with receptacles of kitchen, pantry or dining room, and what else is on it."""

    breaker_a: float
    least_a: float
    boxes: frozenset[str]
    others: frozenset[CircuitLoad]


def tell(finding: Finding) -> FindingWords:
    """The circuits of a kitchen, or one of them and what else is on it."""
    facts: SmallApplianceKitchenFacts | SmallApplianceFacts = finding.facts
    if isinstance(facts, SmallApplianceKitchenFacts):
        return _tell_kitchen(finding, facts)
    return _tell_circuit(finding, facts)


def _tell_kitchen(finding: Finding, facts: SmallApplianceKitchenFacts) -> FindingWords:
    found, least, required = len(facts.circuits), Amperes(facts.least_a), facts.required
    working: list[Value] = []
    says = NO_CIRCUIT(least=least, required=required)
    if facts.circuits:
        says = COUNTERS(n=found, least=least, required=required)
        working.append(FEEDING(circuits=ids_listed(facts.circuits)))
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = BRING(n=required - found)
    return FindingWords(says, found, required, tuple(working) or (says,), remedy)


def _tell_circuit(finding: Finding, facts: SmallApplianceFacts) -> FindingWords:
    breaker, least = Amperes(facts.breaker_a), Amperes(facts.least_a)
    working: list[Value] = [
        BREAKER(breaker=breaker, least=least),
        BOXES(boxes=ids_listed(facts.boxes)),
    ]
    faults: list[Value] = []
    remedies: list[Value] = []
    if facts.others:
        working.append(OTHERS(others=every_load(facts.others)))
        faults.append(ALSO_FEEDS(others=few_loads(facts.others)))
        remedies.append(MOVE(n=len(facts.others)))
    if facts.breaker_a < facts.least_a:
        faults.append(SMALL(breaker=breaker, least=least))
        remedies.append(ENLARGE(least=least))
    if finding.verdict is Verdict.OK:
        return FindingWords(FEEDS_ONLY(breaker=breaker), breaker, least, tuple(working))
    says, remedy = Joined(tuple(faults)), Joined(tuple(remedies))
    return FindingWords(says, breaker, least, tuple(working), remedy)


@rule(
    NAME,
    topic="circuits",
    title="Small-appliance circuits",
    tell=tell,
    facts=SmallApplianceKitchenFacts | SmallApplianceFacts,
)
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
            circuits.append(circuit.id)
    facts = SmallApplianceKitchenFacts(frozenset(circuits), asked.value, least.value)
    verdict = Verdict.NOT_TO_CODE
    if len(circuits) >= asked.value:
        verdict = Verdict.OK
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


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
    boxes = []
    others = []
    for outlet in site.supply.outlets(circuit.id):
        if outlet in here and _belongs(outlet):
            boxes.append(outlet.box.id)
        else:
            others.append(device_load(outlet))
    for appliance in site.supply.appliances[circuit.id]:
        others.append(appliance_load(appliance))
    least = limits[-1].value
    facts = SmallApplianceFacts(circuit.breaker_a, least, frozenset(boxes), frozenset(others))
    verdict = Verdict.NOT_TO_CODE
    if circuit.breaker_a >= least and not others:
        verdict = Verdict.OK
    spot = site.circuit_spot(circuit)
    return Finding(this, f"circuit/{circuit.id}", verdict, spot, facts, limits)


def _belongs(outlet: SuppliedDevice) -> bool:
    """A receptacle in the open; one within a cabinet is a fixed appliance's."""
    device = outlet.device
    fixed = device.in_cabinet and device.dedicated_to
    return device.kind is DeviceKind.RECEPTACLE and not fixed
