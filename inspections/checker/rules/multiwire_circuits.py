"""Circuits that share a neutral, and breakers of two poles: opposite legs, opened together."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed

NAME = "multiwire-circuits"
LEGS = ("A", "B")


def tell(finding: Finding) -> FindingWords:
    """The spaces with their legs, and whether one handle opens both."""
    data = finding.facts
    who = f"{'Circuits' if len(data['circuits']) > 1 else 'Circuit'} {listed(data['circuits'])}"
    figure = ", ".join(f"space {slot} leg {leg}" for slot, leg in data["legs"]) or "not recorded"
    faults, missing = listed(data["faults"]), listed(data["missing"])
    both = "opposite legs" + (", one handle for both" if data["together"] else "")
    says = {
        Verdict.MEETS: f"{who}: {both}.",
        Verdict.SHORT: f"{who}: {faults}.",
        Verdict.UNKNOWN: f"{who}: nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Move the breakers to spaces on opposite legs, under a common trip or "
        "a listed handle tie.",
        Verdict.UNKNOWN: "Look at the panel and record the spaces and the handle.",
    }
    trip = {True: "one handle opens both", False: "each opens by itself", None: "not recorded"}
    working = [figure, *([f"handle: {trip[data['trip']]}"] if data["together"] else [])]
    return verdict_words(finding, figure, both, working, says, remedies)


@rule(NAME, topic="circuits", title="Legs and common trip", tell=tell, scope=Scope.WIRING)
def multiwire_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Two circuits that share a neutral stand on opposite legs and open together.

    On one leg their currents would add up in the neutral. The two poles of one breaker stand
    on opposite legs too, or its load has no 240 V. Spaces of a panel are numbered left and
    right by rows, and the legs take turns from row to row.
    """
    book = site.rulebook
    legs, trip = book.get(f"{NAME}.opposite_legs"), book.get(f"{NAME}.common_trip")
    if legs is None:
        return
    for circuit in site.house.circuits:
        if circuit.shares_neutral_with:
            other = site.circuits[circuit.shares_neutral_with]
            yield _finding(this, site, (circuit, other), legs, trip)
        elif circuit.poles == len(LEGS):
            yield _finding(this, site, (circuit,), legs, None)


def _finding(
    this: Rule, site: HouseByCode, circuits: tuple[Circuit, ...], legs: Limit, trip: Limit | None
) -> Finding:
    limits = [legs]
    together = bool(trip and trip.value)
    if trip and together:
        limits.append(trip)
    poles = []
    for circuit in circuits:
        for slot in circuit.slots:
            poles.append((slot, leg(slot)))
    data: dict[str, Any] = {
        "circuits": [circuit.name for circuit in circuits],
        "panels": [circuit.panel for circuit in circuits],
        "legs": poles,
        "together": together,
        "trip": _trip(circuits),
    }
    data["faults"], data["missing"] = _faults(data, legs)
    verdict = fault_verdict(data["faults"], data["missing"])
    spot = site.circuit_spot(circuits[0])
    return Finding(this, circuits[0].id, verdict, spot, data, tuple(limits))


def _trip(circuits: tuple[Circuit, ...]) -> bool | None:
    common_trips = set()
    for circuit in circuits:
        common_trips.add(circuit.common_trip)
    said = common_trips - {None}
    if len(said) == 1:
        return said.pop()
    if said:
        return False
    return None


def _faults(data: dict[str, Any], legs: Limit) -> tuple[list[str], list[str]]:
    """What is wrong, and what nobody recorded."""
    faults = []
    missing = []
    if legs.value:
        known = [leg for _, leg in data["legs"]]
        if len(set(data["panels"])) > 1:
            faults.append("they come from two panels")
        elif len(known) < len(LEGS):
            missing.append("their spaces in the panel")
        elif len(set(known)) < len(LEGS):
            faults.append(f"both poles stand on leg {known[0]}")
    if data["together"]:
        if data["trip"] is None:
            missing.append("whether one handle opens both")
        elif not data["trip"]:
            faults.append("each opens by itself")
    return faults, missing


def leg(slot: int) -> str:
    """The leg of a panel space: 1 and 2 on the first, 3 and 4 on the second, and so on by turns."""
    return LEGS[(slot - 1) // 2 % 2]
