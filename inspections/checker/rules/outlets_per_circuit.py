"""Outlets on one branch circuit."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Circuit
from ..site import HouseByCode
from ..words import amperes, number, plural

NAME = "outlets-per-circuit"
USUAL, FULL = 80, 100  # percent of its rating that a breaker carries continuously


def tell(finding: Finding) -> FindingWords:
    """Outlets against what the circuit takes."""
    data = finding.facts
    count, most = plural(data["count"], "outlet"), number(data["most"])
    entries = []
    for name, each in data["kinds"].items():
        entries.append(f"{name} {number(each)}")
    kinds = ", ".join(entries)
    says = {
        Verdict.MEETS: f"{count} on this circuit; it may have {most}.",
        Verdict.SHORT: f"{count} on this circuit; no more than {most} are allowed.",
        Verdict.UNKNOWN: f"{count}: nobody recorded whether the breaker carries its whole rating.",
    }
    remedies = {
        Verdict.SHORT: "Move some of the outlets to another circuit.",
        Verdict.UNKNOWN: "Read on the breaker how much it carries continuously and record it.",
    }
    working = [f"outlets: {kinds}, in all {number(data['count'])}"]
    if data["percent"]:
        working.append(
            f"{amperes(data['breaker'])} × {data['percent']} % ÷ {amperes(data['each'])} "
            f"an outlet: {most}"
        )
    else:
        working.append(f"no more than {most} on any circuit of two wires")
    return verdict_words(finding, count, f"at most {most}", working, says, remedies)


@rule(NAME, topic="circuits", title="Outlets on a circuit", tell=tell, scope=Scope.WIRING)
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
    kinds: dict[str, int] = {}
    for outlet in outlets:
        word = outlet.device.kind.value.replace("_", " ")
        kinds[word] = kinds.get(word, 0) + 1
    if site.supply.appliances[circuit.id]:
        kinds["appliance"] = len(site.supply.appliances[circuit.id])
    count, flat = sum(kinds.values()), site.rulebook.get(f"{NAME}.most")
    data: dict[str, Any] = {"count": count, "kinds": kinds, "breaker": circuit.breaker_a}
    if flat:
        data |= {"most": flat.value, "percent": None}
        verdict, limit = Verdict.MEETS if count <= flat.value else Verdict.SHORT, flat
    else:
        limit = site.rulebook[f"{NAME}.each_a"]
        percent = circuit.continuous_percent or USUAL
        most = circuit.breaker_a * percent / 100 / limit.value
        highest = circuit.breaker_a * (circuit.continuous_percent or FULL) / 100 / limit.value
        data |= {"most": most, "percent": percent, "each": limit.value}
        verdict = Verdict.UNKNOWN
        if count > highest:
            verdict = Verdict.SHORT
        if count <= most:
            verdict = Verdict.MEETS
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, (limit,))
