"""Bonding conductors of the size that the breaker requires."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Text, Value, message
from inspections.checker.asking.fixing import choice, figure
from inspections.checker.asking.house_uses import gauges_of
from inspections.checker.asking.visual import natural
from inspections.checker.asking.wire_sizes import Metal, cables_named, cables_told, wire
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.cables import Cable, CableKind
from ..house.gauges import awg, awg_number
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "bonding-conductors"
ARMOURED = frozenset({CableKind.AC, CableKind.MC, CableKind.RACEWAY})
"""Cables whose metal may be the bonding conductor."""
OK = {
    "NEC": message(
        f"{NAME}.nec.ok",
        "Smallest equipment grounding conductor is {size}; {least} minimum at {breaker}.",
    ),
    "CEC": message(
        f"{NAME}.cec.ok", "Smallest bonding conductor is {size}; {least} minimum at {breaker}."
    ),
}
OWN_SIZE = {
    "NEC": message(
        f"{NAME}.nec.own-size",
        "No equipment grounding conductor is smaller than its circuit conductors.",
    ),
    "CEC": message(
        f"{NAME}.cec.own-size", "No bonding conductor is smaller than its circuit conductors."
    ),
}
SMALL = {
    "NEC": message(
        f"{NAME}.nec.small",
        "{size} equipment grounding conductor in {cables}; {least} minimum at {breaker}.",
    ),
    "CEC": message(
        f"{NAME}.cec.small",
        "{size} bonding conductor in {cables}; {least} minimum at {breaker}.",
    ),
}
WITHOUT = {
    "NEC": message(f"{NAME}.nec.without", "No equipment grounding conductor in {cables}."),
    "CEC": message(f"{NAME}.cec.without", "No bonding conductor in {cables}."),
}
REMEDY = message(f"{NAME}.remedy", "Replace the cable with one that has {least} or larger.")
REQUIRED = message(f"{NAME}.required", "required for {breaker}: {wire}")
NEED_NOT = message(f"{NAME}.need-not", "need not be larger than the circuit's own conductors")
SMALLEST = message(f"{NAME}.smallest", "smallest found: {size}")
TOO_SMALL = message(f"{NAME}.too-small", "too small: {cables}")
NONE_IN = message(f"{NAME}.none-in", "none: {cables}")


@dataclass(frozen=True, slots=True)
class SmallBonding:
    """A cable whose bonding conductor is too small, by numbers of `gauges.awg_number`."""

    cable: str
    size_awg: int
    least_awg: int


@dataclass(frozen=True, slots=True)
class BondingConductorFacts:
    """The bonding conductors of a circuit against its breaker."""

    breaker_a: float
    least_awg: int
    """What the breaker requires; a cable's own conductors may allow less."""
    smallest_awg: int | None
    """The smallest found; None when no cable has one."""
    small: tuple[SmallBonding, ...]
    """The smallest first."""
    without: frozenset[str]

    @property
    def own_size_counts(self) -> bool:
        """Whether a cable's own conductors allow less than the breaker requires."""
        if self.small:
            return self.small[0].least_awg > self.least_awg
        return self.smallest_awg is not None and self.smallest_awg > self.least_awg


def tell(finding: Finding) -> FindingWords:
    """The smallest bonding conductor of the circuit against its breaker."""
    facts: BondingConductorFacts = finding.facts
    says: list[Text] = []
    figure: Value = ""
    least = facts.least_awg
    if facts.small:
        worst = facts.small[0]
        figure, least = awg(worst.size_awg), worst.least_awg
        says.append(_small(finding.code, facts, worst))
    if facts.without:
        says.append(WITHOUT[finding.code](cables=cables_told(facts.without)))
    working = _working(facts)
    if finding.verdict is Verdict.OK:
        return _ok(finding.code, facts, working)
    remedy = REMEDY(least=awg(least))
    return FindingWords(Joined(tuple(says)), figure, awg(least), working, remedy)


def _small(code: str, facts: BondingConductorFacts, worst: SmallBonding) -> Text:
    """The smallest of those that are too small, for all of them."""
    cables = cables_told({each.cable for each in facts.small})
    return SMALL[code](
        size=awg(worst.size_awg),
        cables=cables,
        least=awg(worst.least_awg),
        breaker=Amperes(facts.breaker_a),
    )


def _ok(code: str, facts: BondingConductorFacts, working: tuple[Value, ...]) -> FindingWords:
    """By the breaker; or by the circuit's own conductors, which allow a smaller one."""
    smallest = facts.smallest_awg
    if smallest is None or smallest > facts.least_awg:
        return FindingWords(OWN_SIZE[code](), working=working)
    figure, least = awg(smallest), awg(facts.least_awg)
    says = OK[code](size=figure, least=least, breaker=Amperes(facts.breaker_a))
    return FindingWords(says, figure, least, working)


def _working(facts: BondingConductorFacts) -> tuple[Value, ...]:
    wanted = wire(facts.least_awg, Metal.COPPER)
    lines: list[Value] = [REQUIRED(breaker=Amperes(facts.breaker_a), wire=wanted)]
    if facts.smallest_awg is not None:
        if facts.own_size_counts:
            lines.append(NEED_NOT())
        lines.append(SMALLEST(size=awg(facts.smallest_awg)))
    if facts.small:
        lines.append(TOO_SMALL(cables=cables_named({each.cable for each in facts.small})))
    if facts.without:
        lines.append(NONE_IN(cables=cables_named(facts.without)))
    return tuple(lines)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A cable with a bonding conductor that is large enough."""
    facts = finding.facts
    for each in facts.small:
        sizes = gauges_of(house, largest=each.least_awg)
        yield choice(("cables", each.cable, "bonding_awg"), sizes)
    for name in sorted(facts.without):
        yield figure(("cables", name, "bonding"), least=1)


@rule(
    NAME,
    topic="panel",
    title="Bonding and grounding conductor size",
    tell=tell,
    scope=Scope.WIRING,
    facts=BondingConductorFacts,
    workmanship=True,
    fixes=_fixes,
)
def bonding_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each cable of a circuit has a bonding conductor as large as its breaker requires.

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
    least = _least(limit, circuit.breaker_a)
    small, without, sizes = [], set(), []
    for cable in cables:
        own, bonding = awg_number(cable.awg), awg_number(cable.bonding_awg or cable.awg)
        if not cable.bonding:
            without.add(cable.id)
            continue
        sizes.append(bonding)
        if bonding > max(least, own):
            small.append(SmallBonding(cable.id, bonding, max(least, own)))
    small.sort(key=lambda each: (-each.size_awg, natural(each.cable)))
    facts = BondingConductorFacts(
        circuit.breaker_a,
        least,
        max(sizes, default=None),
        tuple(small),
        frozenset(without),
    )
    verdict = fault_verdict((*small, *without), ())
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), facts, (limit,))


def _least(limit: Limit, breaker_a: float) -> int:
    """The size in the row of the breaker: the first that it does not exceed, or the last."""
    rows: list[tuple[float, int]] = []
    for row, size in limit.value.items():
        rows.append((float(row), size))
    rows.sort()
    for rated, size in rows:
        if breaker_a <= rated:
            return size
    return rows[-1][1]
