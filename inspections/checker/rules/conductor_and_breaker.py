"""Conductors large enough for the breaker that protects them."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, CableKind
from ..house.power import Circuit
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode
from ..words import amperes

NAME = "conductor-and-breaker"
SHEATHED = frozenset({CableKind.NM, CableKind.UF})


def tell(finding: Finding) -> FindingWords:
    """The weakest cable of the circuit against its breaker."""
    data = finding.facts
    breaker, cable, awg = amperes(data["breaker"]), data["cable"], data["awg"]
    allowed = "no breaker in the table"
    if data["allowed"]:
        allowed = amperes(data["allowed"])
    says = {
        Verdict.MEETS: f"A breaker of {breaker} protects {awg} AWG, which takes {allowed}.",
        Verdict.SHORT: f"Cable {cable} is {awg} AWG, good for {allowed}, on a {breaker} breaker.",
    }
    remedies = {
        Verdict.SHORT: "Pull larger conductors or fit a smaller breaker, unless the nameplate of "
        "a motor or air conditioner allows this one."
    }
    working = (
        f"smallest of {data['cables']} on the circuit: cable {cable}, {awg} AWG copper",
        f"largest breaker for it: {allowed}",
        f"breaker of the circuit: {breaker}",
    )
    return verdict_words(finding, breaker, f"at most {allowed}", working, says, remedies)


@rule(NAME, topic="circuits", title="Conductors and their breaker", tell=tell, scope=Scope.WIRING)
def conductor_and_breaker(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No breaker is larger than the smallest copper conductor of its circuit allows.

    Small conductors have a figure of their own whatever their ampacity is. Larger ones go by
    the column of their cable: that of 60 °C for cables in a plastic sheath, of 75 °C for the
    rest, and the next standard breaker where the ampacity is between two. Conductors of copper
    are taken; motors and air conditioners may have other figures on their nameplates.
    """
    book = site.rulebook
    if f"{NAME}.small_a" not in book:
        return
    for circuit in site.house.circuits:
        cables = []
        for cable in site.supply.cables[circuit.id]:
            if cable.awg:
                cables.append(cable)
        if cables:
            yield _circuit(this, site, circuit, cables)


def _circuit(this: Rule, site: HouseByCode, circuit: Circuit, cables: list[Cable]) -> Finding:
    rated = []
    for cable in cables:
        rated.append((*_allowed(site.rulebook, cable), cable))
    allowed, limit, weakest = min(rated, key=lambda each: (each[0], each[2].id))
    meets = circuit.breaker_a <= allowed
    data = {
        "breaker": circuit.breaker_a,
        "allowed": allowed,
        "cable": weakest.id,
        "awg": weakest.awg,
        "cables": len(cables),
    }
    verdict = Verdict.SHORT
    if meets:
        verdict = Verdict.MEETS
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, (limit,))


def _allowed(book: Rulebook, cable: Cable) -> tuple[float, Limit]:
    """The largest breaker for a cable, 0 when no table has its size, and where that stands."""
    column = "other_a"
    if cable.kind in SHEATHED:
        column = "sheathed_a"
    small = book[f"{NAME}.small_a"]
    if cable.awg in small.value:
        limit = small
    else:
        limit = book[f"{NAME}.{column}"]
    return limit.value.get(cable.awg, 0), limit
