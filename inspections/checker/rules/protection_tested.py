"""Ground-fault and arc-fault protection tested at the finish."""

from collections.abc import Iterator

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Protection
from ..site import HouseByCode
from ..spot import CIRCUIT, PANEL

NAME = "protection-tested"
WORDS = {
    Protection.GFCI: "ground-fault protection",
    Protection.AFCI: "arc-fault protection",
    Protection.DUAL: "ground-fault and arc-fault protection",
}


def tell(finding: Finding) -> FindingWords:
    """Which breaker to test."""
    data = finding.facts
    circuit, kind = f"circuit {data['circuit']} ({data['name']})", WORDS[data["protection"]]
    return FindingWords(
        f"Press the test button of {circuit}: its {kind} trips, and resets.",
        "not tested yet",
        "trips and resets",
        (f"{circuit}: {data['breaker_a']:g} A breaker with {kind}",),
        "Press it with the circuit live, see that its outlets are dead, reset, and tick.",
    )


@rule(
    NAME, topic="finish", title="Protection tested", tell=tell, stage="finish", scope=Scope.WIRING
)
def protection_tested(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Breakers with ground-fault or arc-fault protection are tried by their test button.

    What lies downstream is dead when it trips. One item a breaker, after the house is
    energised, for the person who may energise it.
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
        data = {
            "circuit": circuit.id,
            "name": circuit.name,
            "breaker_a": circuit.breaker_a,
            "protection": circuit.protection.value,
        }
        room = site.rooms[panels[circuit.panel]]
        spot = site.free_spot(room, PANEL(panel=circuit.panel), CIRCUIT(circuit=circuit.id))
        yield Finding(this, circuit.id, Verdict.LOOK, spot, data, (limit,))
