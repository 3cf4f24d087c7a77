"""Ground-fault and arc-fault protection tested at the finish."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, message
from inspections.checker.asking.protection import protection

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Protection
from ..site import HouseByCode
from ..spot import CIRCUIT, PANEL

NAME = "protection-tested"
TRIPS = message(
    f"{NAME}.verify",
    "The {protection} breaker of circuit {circuit} trips on its test button and resets.",
)
PRESS = message(
    f"{NAME}.remedy", "Press the button with the circuit live, and check that its outlets go dead."
)
BREAKER = message(f"{NAME}.breaker", "{breaker} breaker: {protection}.")


@dataclass(frozen=True, slots=True)
class ProtectionTestFacts:
    """A breaker with a test button."""

    circuit: str
    breaker_a: float
    protection: Protection


def tell(finding: Finding) -> FindingWords:
    """Which breaker to test."""
    facts: ProtectionTestFacts = finding.facts
    kind = protection(facts.protection, finding.code)
    return FindingWords(
        TRIPS(protection=kind, circuit=facts.circuit),
        working=(BREAKER(breaker=Amperes(facts.breaker_a), protection=kind),),
        remedy=PRESS(),
    )


@rule(
    NAME,
    topic="finish",
    title="Protection tested",
    tell=tell,
    stage="finish",
    scope=Scope.WIRING,
    facts=ProtectionTestFacts,
    workmanship=True,
)
def protection_tested(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Breakers with ground-fault or arc-fault protection are tried by their test button.

    What lies downstream is dead when it trips. One item a breaker, after the house is energized,
    for the person who may energize it.
    """
    limit = site.rulebook.get(f"{NAME}.pressed")
    if not (limit and limit.value):
        return
    panels = {}
    for panel in site.house.panels:
        panels[panel.id] = panel.room
    for circuit in site.house.circuits:
        if circuit.protection is None:
            continue
        facts = ProtectionTestFacts(circuit.id, circuit.breaker_a, circuit.protection)
        room = site.rooms[panels[circuit.panel]]
        spot = site.free_spot(room, PANEL(panel=circuit.panel), CIRCUIT(circuit=circuit.name))
        yield Finding(this, circuit.id, Verdict.VERIFY, spot, facts, (limit,))
