"""Outlets on one branch circuit."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from config.messages.message import Amperes, Joined, Listed, Percent, Text, Value, message
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.nouns import noun
from ..house.power import Circuit
from ..house.service import ApplianceKind
from ..site import HouseByCode

NAME = "outlets-per-circuit"
USUAL, FULL = 80, 100  # percent of its rating that a breaker carries continuously

OUTLETS = message(
    f"{NAME}.outlets",
    "This circuit has {n} outlets; {most} maximum.",
    one="This circuit has {n} outlet; {most} maximum.",
)
MOVE = message(
    f"{NAME}.remedy",
    "Move {n} of them to another circuit.",
    one="Move one of them to another circuit.",
)
SHARE = message(f"{NAME}.share", "what share of its rating the breaker carries continuously")
READ = message(f"{NAME}.share.remedy", "Read it on the breaker and record it.")
KIND = message(f"{NAME}.kind", "{kind}: {n}")
PRODUCT = message(f"{NAME}.product", "{breaker} × {share} ÷ {each} an outlet: {most} outlets")
ANY = message(f"{NAME}.any", "{most} on any 2-wire circuit")


@dataclass(frozen=True, slots=True)
class OutletKind:
    """How many outlets of a kind; every appliance is one of kind `other`."""

    kind: DeviceKind | ApplianceKind
    count: int


@dataclass(frozen=True, slots=True)
class OutletFacts:
    """The outlets of a circuit, and how many it may have."""

    kinds: frozenset[OutletKind]
    count: int
    breaker_a: float
    most: float
    percent: int | None
    """The share of its rating that the breaker is taken to carry continuously, where it counts."""
    each_a: float | None
    """What an outlet is taken to draw, where it counts."""

    @property
    def whole(self) -> int:
        """How many outlets that are."""
        return floor(self.most)


def tell(finding: Finding) -> FindingWords:
    """Outlets against what the circuit takes."""
    facts: OutletFacts = finding.facts
    count, most = facts.count, facts.whole
    working = (_kinds(facts), _product(facts))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed((SHARE(),)))
        return FindingWords(says, count, most, working, READ())
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = MOVE(n=count - most)
    return FindingWords(OUTLETS(n=count, most=most), count, most, working, remedy)


def _kinds(facts: OutletFacts) -> Joined:
    """How many of each kind, the most first."""
    kinds = sorted(facts.kinds, key=lambda each: (-each.count, each.kind))
    return Joined(tuple(KIND(kind=noun(each.kind), n=each.count) for each in kinds), ", ")


def _product(facts: OutletFacts) -> Text:
    """How many outlets the circuit may have, by what."""
    if facts.percent is None or facts.each_a is None:
        return ANY(most=facts.whole)
    return PRODUCT(
        breaker=Amperes(facts.breaker_a),
        share=Percent(facts.percent),
        each=Amperes(facts.each_a),
        most=facts.whole,
    )


@rule(
    NAME,
    topic="circuits",
    title="Outlets per circuit",
    tell=tell,
    scope=Scope.WIRING,
    facts=OutletFacts,
)
def outlets_per_circuit(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A branch circuit of two wires has no more outlets than its breaker takes.

    Receptacles, luminaires, fans, alarms and appliances each count as one outlet, a receptacle
    box as many as it has receptacle straps. Older editions name a number for every circuit;
    newer ones take an ampere for each outlet against what the breaker carries continuously.
    """
    book = site.rulebook
    if f"{NAME}.most" not in book and f"{NAME}.each_a" not in book:
        return
    for circuit in site.house.circuits:
        outlets = site.supply.outlets(circuit.id)
        if circuit.poles == 1 and (outlets or site.supply.appliances[circuit.id]):
            yield _circuit(this, site, circuit, outlets)


def _circuit(
    this: Rule, site: HouseByCode, circuit: Circuit, outlets: list[SuppliedDevice]
) -> Finding:
    kinds: Counter[DeviceKind | ApplianceKind] = Counter(each.device.kind for each in outlets)
    if appliances := site.supply.appliances[circuit.id]:
        kinds[ApplianceKind.OTHER] = len(appliances)
    counted = frozenset(OutletKind(kind, count) for kind, count in kinds.items())
    count, flat = kinds.total(), site.rulebook.get(f"{NAME}.most")
    spot = site.circuit_spot(circuit)
    if flat:
        facts = OutletFacts(counted, count, circuit.breaker_a, flat.value, None, None)
        verdict = Verdict.OK if count <= flat.value else Verdict.NOT_TO_CODE
        return Finding(this, circuit.id, verdict, spot, facts, (flat,))
    limit = site.rulebook[f"{NAME}.each_a"]
    percent = circuit.continuous_percent or USUAL
    most = circuit.breaker_a * percent / 100 / limit.value
    highest = circuit.breaker_a * (circuit.continuous_percent or FULL) / 100 / limit.value
    facts = OutletFacts(counted, count, circuit.breaker_a, most, percent, limit.value)
    verdict = Verdict.INFO_NEEDED
    if count > highest:
        verdict = Verdict.NOT_TO_CODE
    if count <= most:
        verdict = Verdict.OK
    return Finding(this, circuit.id, verdict, spot, facts, (limit,))
