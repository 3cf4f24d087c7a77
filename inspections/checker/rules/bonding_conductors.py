"""Bonding conductors of the size that the breaker asks for."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..gauges import awg, awg_number
from ..house.cables import Cable, CableKind
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed

NAME = "bonding-conductors"
ARMOURED = frozenset({CableKind.AC, CableKind.MC, CableKind.RACEWAY})
"""Cables whose metal may be the bonding conductor."""


def tell(finding: Finding) -> FindingWords:
    """The smallest bonding conductor of the circuit against its breaker."""
    data = finding.facts
    asked, bare = f"{awg(data['asked'])} copper", listed(data["without"])
    smallest = "none"
    if data["smallest"] is not None:
        smallest = awg(data["smallest"])
    breaker = amperes(data["breaker"])
    says = {
        Verdict.MEETS: f"Bonding conductors of {smallest} or larger suit a {breaker} breaker.",
        Verdict.SHORT: f"No bonding conductor in {bare}."
        if bare
        else f"A bonding conductor of {smallest} is too small for a {breaker} breaker.",
    }
    remedies = {Verdict.SHORT: f"Pull cable with a bonding conductor of {asked} or larger."}
    working = [f"breaker {breaker}: {asked} or larger", f"smallest found: {smallest}"]
    if bare:
        working += [f"without one: {bare}"]
    return verdict_words(finding, smallest, f"at least {asked}", working, says, remedies)


@rule(NAME, topic="panel", title="Size of bonding conductors", tell=tell, scope=Scope.WIRING)
def bonding_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each cable of a circuit has a bonding conductor as large as its breaker asks.

    It need not be larger than the circuit's own conductors. The metal of armoured cable and of
    raceways may serve instead.
    """
    limit = site.rulebook.get(f"{NAME}.least_awg")
    if limit is None:
        return
    for circuit in site.house.circuits:
        cables = []
        for c in site.supply.cables[circuit.id]:
            if c.kind not in ARMOURED and c.awg:
                cables.append(c)
        if cables:
            yield _circuit(this, site, circuit, cables, limit)


def _circuit(
    this: Rule, site: HouseByCode, circuit: Circuit, cables: list[Cable], limit: Limit
) -> Finding:
    rows = sorted((float(row), number) for row, number in limit.value.items())
    row = next((number for row, number in rows if circuit.breaker_a <= row), rows[-1][1])
    small, without, sizes = [], [], []
    for cable in cables:
        own, bonding = awg_number(cable.awg), awg_number(cable.bonding_awg or cable.awg)
        if not cable.bonding:
            without.append(cable.id)
        else:
            sizes.append(bonding)
            if bonding > max(row, own):
                small += [cable.id]
    data: dict[str, Any] = {
        "breaker": circuit.breaker_a,
        "asked": row,
        "smallest": max(sizes, default=None),
        "small": small,
        "without": without,
    }
    verdict = Verdict.MEETS
    if small or without:
        verdict = Verdict.SHORT
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, (limit,))
