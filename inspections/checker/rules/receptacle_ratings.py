"""Receptacles rated for the breaker of their circuit."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed

NAME = "receptacle-ratings"


def tell(finding: Finding) -> FindingWords:
    """The ratings on the circuit against those that its breaker takes."""
    data = finding.facts
    breaker, limit = amperes(data["breaker"]), _range(data)
    faults = []
    for box, rating in data["faults"]:
        faults.append(f"{box} at {amperes(rating)}")
    missing = listed(data["missing"])
    figure = listed(amperes(rating) for rating in data["ratings"]) or "not recorded"
    says = {
        Verdict.MEETS: f"The receptacles suit a breaker of {breaker}.",
        Verdict.SHORT: f"{listed(faults)}: a {breaker} circuit takes receptacles of {limit}.",
        Verdict.UNKNOWN: f"Nobody recorded how many amperes {missing} is made for.",
    }
    remedies = {
        Verdict.SHORT: "Fit receptacles of the right rating.",
        Verdict.UNKNOWN: "Read it on the receptacle and record it.",
    }
    working = [f"breaker {breaker}: receptacles of {limit}", f"found: {figure}"]
    if missing:
        working += [f"not recorded: {missing}"]
    return verdict_words(finding, figure, limit, working, says, remedies)


def _range(data: Any) -> str:
    least, most = data["least"], data["most"]
    if most is None:
        return f"at least {amperes(least)}"
    if least == most:
        return amperes(least)
    return f"{amperes(least)} to {amperes(most)}"


@rule(NAME, topic="circuits", title="Receptacles and their breaker", tell=tell, scope=Scope.WIRING)
def receptacle_ratings(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle is rated for the breaker of its circuit.

    Breakers between two figures of the table go by the next larger one. A single receptacle
    that is alone on its circuit is rated no less than the breaker; count a duplex as two.
    """
    least, most = (site.rulebook.get(f"{NAME}.{name}_a") for name in ("least", "most"))
    if least is None:
        return
    for circuit in site.house.circuits:
        receptacles = []
        for outlet in site.supply.outlets(circuit.id):
            if outlet.device.kind is DeviceKind.RECEPTACLE:
                receptacles.append(outlet)
        row = next((row for row in least.value if float(row) >= circuit.breaker_a), None)
        if receptacles and row:
            yield _circuit(this, site, circuit, receptacles, row, (least, most))


def _circuit(
    this: Rule,
    site: HouseByCode,
    circuit: Circuit,
    receptacles: list[SuppliedDevice],
    row: str,
    limits: tuple[Limit, Limit | None],
) -> Finding:
    least, most = limits
    lowest = least.value[row]
    highest = None
    used: tuple[Limit, ...] = (least,)
    if most:
        highest = most.value[row]
        used = (least, most)
    ratings = set()
    faults = []
    missing = []
    for outlet in receptacles:
        rating = outlet.device.amperes
        if rating is None:
            missing.append(outlet.box.id)
            continue
        ratings.add(rating)
        if rating < lowest or (highest is not None and rating > highest):
            faults.append((outlet.box.id, rating))
    data: dict[str, Any] = {
        "breaker": circuit.breaker_a,
        "least": lowest,
        "most": highest,
        "ratings": sorted(ratings),
        "faults": faults,
        "missing": missing,
    }
    verdict = fault_verdict(faults, missing)
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, used)
