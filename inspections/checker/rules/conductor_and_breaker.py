"""Conductors large enough for the breaker that protects them."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Value, message
from inspections.checker.asking.fixing import choice
from inspections.checker.asking.house_uses import breakers_of, gauges_of
from inspections.checker.asking.wire_sizes import Metal, wire
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, CableKind
from ..house.gauges import awg, awg_number
from ..house.power import Circuit
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode

NAME = "conductor-and-breaker"
SHEATHED = frozenset({CableKind.NM, CableKind.UF})
SAYS = message(f"{NAME}.says", "Cable {cable} is {size} on a {breaker} breaker; {allowed} maximum.")
UNLISTED = message(
    f"{NAME}.unlisted", "Cable {cable} is {size}, which has no breaker size in the tables."
)
REMEDY = message(
    f"{NAME}.remedy",
    "Pull a larger size or install a smaller breaker, unless a motor or air conditioner "
    "nameplate allows it.",
)
LARGER = message(f"{NAME}.larger", "Pull a larger size.")
SMALLEST = message(
    f"{NAME}.smallest",
    "smallest of {n} cables on the circuit: {cable}, {wire}",
    one="only cable on the circuit: {cable}, {wire}",
)
LARGEST = message(f"{NAME}.largest", "largest breaker for it: {allowed}")
NO_BREAKER = message(f"{NAME}.no-breaker", "no breaker is listed for it")
BREAKER = message(f"{NAME}.breaker", "breaker of the circuit: {breaker}")


@dataclass(frozen=True, slots=True)
class ConductorAndBreakerFacts:
    """The cable of a circuit that allows the smallest breaker, and its breaker."""

    cable: str
    size_awg: int
    """As `gauges.awg_number` counts: on past 0 for 1/0 and up."""
    allowed_a: float
    """The largest breaker for it; 0 when no table has its size."""
    breaker_a: float
    cables: int


def tell(finding: Finding) -> FindingWords:
    """The weakest cable of the circuit against its breaker."""
    facts: ConductorAndBreakerFacts = finding.facts
    breaker, allowed = Amperes(facts.breaker_a), Amperes(facts.allowed_a)
    size = awg(facts.size_awg)
    smallest = SMALLEST(n=facts.cables, cable=facts.cable, wire=wire(facts.size_awg, Metal.COPPER))
    if not facts.allowed_a:
        says = UNLISTED(cable=facts.cable, size=size)
        working = (smallest, NO_BREAKER(), BREAKER(breaker=breaker))
        return FindingWords(says, breaker, "", working, LARGER())
    says = SAYS(cable=facts.cable, size=size, breaker=breaker, allowed=allowed)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = REMEDY()
    working = (smallest, LARGEST(allowed=allowed), BREAKER(breaker=breaker))
    return FindingWords(says, breaker, allowed, working, remedy)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A breaker that the smallest wire allows; or a larger wire there, of those in this house."""
    facts, circuit = finding.facts, finding.subject
    if finding.verdict is not Verdict.NOT_TO_CODE:
        return
    yield choice(("circuits", circuit, "breaker_a"), breakers_of(house, most=facts.allowed_a))
    if facts.cables == 1:
        larger = gauges_of(house, largest=facts.size_awg - 1)
        yield choice(("cables", facts.cable, "awg"), larger)


@rule(
    NAME,
    topic="circuits",
    title="Wire size for the breaker",
    tell=tell,
    scope=Scope.WIRING,
    facts=ConductorAndBreakerFacts,
    fixes=_fixes,
)
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
    facts = ConductorAndBreakerFacts(
        weakest.id, awg_number(weakest.awg), allowed, circuit.breaker_a, len(cables)
    )
    verdict = Verdict.NOT_TO_CODE
    if circuit.breaker_a <= allowed:
        verdict = Verdict.OK
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), facts, (limit,))


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
