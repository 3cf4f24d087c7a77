"""Circuits that belong to one use: the laundry's, the bathrooms', the garage's, the outdoors'."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Amperes, Listed, Message, Text, Value, message
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.on_circuit import (
    MOVE,
    TRACE,
    CircuitLoad,
    appliance_load,
    circuit_line,
    device_load,
    few_loads,
)
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.asking.visual import natural
from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.graph.supply import SuppliedDevice
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.power import Circuit
from inspections.checker.house.rooms import Room
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode


class Use(StrEnum):
    """What the circuits are for."""

    BATHROOM = "bathroom"
    GARAGE = "garage"
    LAUNDRY = "laundry"
    OUTDOORS = "outdoors"


RECEPTACLES: dict[Use, Message] = {
    Use.BATHROOM: message("use-circuit.bathroom", "bathroom receptacles"),
    Use.GARAGE: message("use-circuit.garage", "garage receptacles"),
    Use.LAUNDRY: message("use-circuit.laundry", "laundry receptacles"),
    Use.OUTDOORS: message("use-circuit.outdoors", "outdoor receptacles"),
}
FEEDS: dict[Use, Message] = {
    Use.BATHROOM: message(
        "use-circuit.bathroom.ok", "Circuit {circuit} ({breaker}) feeds bathrooms only."
    ),
    Use.GARAGE: message(
        "use-circuit.garage.ok",
        "Circuit {circuit} ({breaker}) feeds garage receptacles and only what may share it.",
    ),
    Use.LAUNDRY: message(
        "use-circuit.laundry.ok", "Circuit {circuit} ({breaker}) feeds laundry receptacles only."
    ),
    Use.OUTDOORS: message(
        "use-circuit.outdoors.ok", "Circuit {circuit} ({breaker}) feeds outdoor receptacles only."
    ),
}
SMALL = message("use-circuit.small", "Circuit {circuit} is {breaker}; {least} minimum.")
SHARED = message("use-circuit.shared", "Circuit {circuit} also feeds {others}; not allowed.")
NONE = message("use-circuit.none", "No {least} circuit is reserved for the {receptacles} here.")
WHICH = message("use-circuit.which", "which circuit feeds the {receptacles} here")
ENLARGE = message("use-circuit.enlarge", "Feed the receptacles from a larger circuit.")
OWN = message("use-circuit.own", "Feed them from one with nothing else on it.")
BOXES = message("use-circuit.boxes", "{receptacles}: {boxes}")
LEAST = message("use-circuit.least", "breaker {least} or more")


@dataclass(frozen=True, slots=True)
class UseCircuit:
    """A circuit that feeds the use, and what is on it that may not be."""

    id: str
    breaker_a: float
    enough: bool
    others: frozenset[CircuitLoad]

    @property
    def good(self) -> bool:
        """Whether it is large enough and feeds nothing that it may not."""
        return self.enough and not self.others


@dataclass(frozen=True, slots=True)
class UseFacts:
    """The circuits of a room's receptacles of one use."""

    use: Use
    least_a: float
    circuits: frozenset[UseCircuit]
    boxes: tuple[str, ...]
    """The box of each receptacle, in order."""


@dataclass(frozen=True)
class CircuitUse:
    """What a rule requires of the circuits of one use."""

    use: Use
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
        names: set[str] = set()
        boxes = []
        for each in outlets:
            names |= set(site.supply.of(*each))
            boxes.append(each.box.id)
        circuits = []
        for name in names:
            circuits.append(_judged(site, use, site.circuits[name]))
        facts = UseFacts(use.use, use.least.value, frozenset(circuits), tuple(sorted(boxes)))
        spot = site.room_spot(site.rooms[room_id])
        yield Finding(this, room_id, _verdict(facts), spot, facts, limits)


def _verdict(facts: UseFacts) -> Verdict:
    if not facts.circuits:
        return Verdict.INFO_NEEDED
    if any(each.good for each in facts.circuits):
        return Verdict.OK
    return Verdict.NOT_TO_CODE


def _judged(site: HouseByCode, use: CircuitUse, circuit: Circuit) -> UseCircuit:
    others = []
    for outlet in site.supply.outlets(circuit.id):
        if not use.belongs(outlet, circuit.id):
            others.append(device_load(outlet))
    for appliance in site.supply.appliances[circuit.id]:
        others.append(appliance_load(appliance))
    enough = circuit.breaker_a >= use.least.value
    return UseCircuit(circuit.id, circuit.breaker_a, enough, frozenset(others))


def tell_use(finding: Finding) -> FindingWords:
    """The circuits that feed the use, and what else is on them."""
    facts: UseFacts = finding.facts
    least, receptacles = Amperes(facts.least_a), RECEPTACLES[facts.use]()
    circuits = sorted(facts.circuits, key=lambda each: natural(each.id))
    working: list[Value] = [
        BOXES(receptacles=receptacles, boxes=ids_listed(set(facts.boxes))),
        LEAST(least=least),
    ]
    for each in circuits:
        working.append(circuit_line(each.id, each.breaker_a, each.others))
    figure: Value = ""
    if len(circuits) == 1:
        figure = Amperes(circuits[0].breaker_a)
    if finding.verdict is Verdict.INFO_NEEDED:
        which = WHICH(receptacles=receptacles)
        says: Value = NOT_RECORDED(what=Listed((which,)))
        return FindingWords(says, figure, least, tuple(working), TRACE())
    if finding.verdict is Verdict.OK:
        good = next(each for each in circuits if each.good)
        figure = Amperes(good.breaker_a)
        says = FEEDS[facts.use](circuit=good.id, breaker=figure)
        return FindingWords(says, figure, least, tuple(working))
    says, remedy = _wrong(facts, circuits, receptacles)
    return FindingWords(says, figure, least, tuple(working), remedy)


def _wrong(facts: UseFacts, circuits: list[UseCircuit], receptacles: Text) -> tuple[Value, Value]:
    """What is wrong and what to do: the one fault of the only circuit, or that none will do."""
    least, only = Amperes(facts.least_a), circuits[0]
    if len(circuits) == 1 and only.enough:
        says = SHARED(circuit=only.id, others=few_loads(only.others))
        return says, MOVE(n=len(only.others))
    if len(circuits) == 1 and not only.others:
        says = SMALL(circuit=only.id, breaker=Amperes(only.breaker_a), least=least)
        return says, ENLARGE()
    return NONE(least=least, receptacles=receptacles), OWN()


def receptacles_of(site: HouseByCode, rooms: Iterable[Room]) -> dict[str, list[SuppliedDevice]]:
    """The single-pole receptacles of each of the rooms that has any."""
    by_room: dict[str, list[SuppliedDevice]] = {}
    for room in rooms:
        for box in site.receptacles_in[room.id]:
            for device in box.devices:
                if device.kind is DeviceKind.RECEPTACLE and device.poles == 1:
                    by_room.setdefault(room.id, []).append(SuppliedDevice(box, device))
    return by_room
