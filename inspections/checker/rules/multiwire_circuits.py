"""Circuits that share a neutral, and breakers of two poles: opposite legs, opened together."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Listed, Message, Text, Value, message
from inspections.checker.asking.fixing import choice, circuit_named, done
from inspections.checker.asking.house_uses import free_spaces
from inspections.checker.asking.lines import beside, sentences
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, RECORD
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, fault_verdict, rule
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "multiwire-circuits"
LEGS = ("A", "B")


class MultiwireFault(StrEnum):
    """What is wrong with the breakers."""

    TWO_PANELS = "two panels"
    ONE_LEG = "one leg"
    APART = "apart"


class MultiwireMissing(StrEnum):
    """What has to be recorded of the breakers."""

    SPACES = "spaces"
    HANDLE = "handle"


OK_TOGETHER = message(
    f"{NAME}.ok-together", "Circuits {circuits} are on opposite legs and open together."
)
OK = message(
    f"{NAME}.ok",
    "Circuits {circuits} are on opposite legs.",
    one="The 2 poles of circuit {circuits} are on opposite legs.",
)
FAULTS: dict[MultiwireFault, Message] = {
    MultiwireFault.TWO_PANELS: message(
        f"{NAME}.two-panels", "Circuits {circuits} share a neutral but come from two panels."
    ),
    MultiwireFault.ONE_LEG: message(
        f"{NAME}.one-leg",
        "Circuits {circuits} are both on leg {leg}; opposite legs required.",
        one="Both poles of circuit {circuits} are on leg {leg}; opposite legs required.",
    ),
    MultiwireFault.APART: message(
        f"{NAME}.apart", "Circuits {circuits} open separately; they must open together."
    ),
}
REMEDIES: dict[MultiwireFault, Message] = {
    MultiwireFault.TWO_PANELS: message(f"{NAME}.two-panels.remedy", "Feed both from one panel."),
    MultiwireFault.ONE_LEG: message(f"{NAME}.one-leg.remedy", "Move one pole to the other leg."),
    MultiwireFault.APART: message(
        f"{NAME}.apart.remedy", "Use a 2-pole breaker or a listed handle tie."
    ),
}
MISSING: dict[MultiwireMissing, Message] = {
    MultiwireMissing.SPACES: message(
        f"{NAME}.missing.spaces",
        "the panel spaces of circuits {circuits}",
        one="the panel spaces of circuit {circuits}",
    ),
    MultiwireMissing.HANDLE: message(
        f"{NAME}.missing.handle", "whether one handle opens circuits {circuits}"
    ),
}
ON_LEG = message(f"{NAME}.on-leg", "Space {space}: leg {leg}.")
ONE_HANDLE = message(f"{NAME}.one-handle", "One handle opens both.")
TWO_HANDLES = message(f"{NAME}.two-handles", "Each has its own handle.")


@dataclass(frozen=True, slots=True)
class MultiwirePole:
    """A space that a breaker takes, and the leg that it is on."""

    space: int
    leg: str


@dataclass(frozen=True, slots=True)
class MultiwireFacts:
    """One breaker of two poles, or two circuits with one neutral: their legs and their handle."""

    circuits: tuple[str, ...]
    """The one that names the other first."""
    panels: tuple[str, ...]
    poles: tuple[MultiwirePole, ...]
    """By space."""
    together: bool
    """Whether they have to open together."""
    common_trip: bool | None
    faults: frozenset[MultiwireFault]
    missing: frozenset[MultiwireMissing]


def tell(finding: Finding) -> FindingWords:
    """What is wrong with the legs or the handle."""
    facts: MultiwireFacts = finding.facts
    says: Value = _ok(facts)
    remedy: Value = ""
    missing = tuple(
        _said(MISSING[each], facts) for each in MultiwireMissing if each in facts.missing
    )
    if facts.faults:
        faults = [fault for fault in MultiwireFault if fault in facts.faults]
        says = sentences(_said(FAULTS[fault], facts) for fault in faults)
        remedy = sentences(REMEDIES[fault]() for fault in faults)
    elif missing:
        says, remedy = NOT_RECORDED(what=Listed(missing)), RECORD()
    return FindingWords(says, working=_working(facts, says, missing), remedy=remedy)


def _ok(facts: MultiwireFacts) -> Text:
    if len({pole.leg for pole in facts.poles}) < len(LEGS):
        return ONE_HANDLE()  # an amendment lets them be on one leg
    if facts.together:
        return _said(OK_TOGETHER, facts)
    return _said(OK, facts)


def _said(told: Message, facts: MultiwireFacts) -> Text:
    """A message with those of the holes that it has."""
    holes: dict[str, Value] = {"circuits": Listed(facts.circuits), "n": len(facts.circuits)}
    if facts.poles:
        holes["leg"] = facts.poles[0].leg
    return told(**{name: holes[name] for name in told.holes})


def _working(facts: MultiwireFacts, says: Value, missing: tuple[Text, ...]) -> tuple[Value, ...]:
    lines: list[Value] = []
    for pole in facts.poles:
        lines.append(ON_LEG(space=pole.space, leg=pole.leg))
    if facts.together and facts.common_trip is not None:
        lines.append(ONE_HANDLE() if facts.common_trip else TWO_HANDLES())
    if facts.faults and missing:
        lines.append(EITHER_WAY(what=Listed(missing)))
    return beside(says, lines)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Spaces on opposite legs, of those that are free; or one handle for both."""
    facts = finding.facts
    if MultiwireFault.ONE_LEG in facts.faults or MultiwireMissing.SPACES in facts.missing:
        circuit = circuit_named(house, facts.circuits[-1])
        taken = {pole.space for pole in facts.poles} - set(circuit.slots)
        legs = {leg(space) for space in taken}
        yield choice(("circuits", circuit.id, "slots"), _pairs(house, circuit, legs))
    if facts.together and not facts.common_trip:
        for name in facts.circuits:
            yield done(("circuits", name, "common_trip"))


def _pairs(house: House, circuit: Circuit, other_legs: set[str]) -> Iterator[tuple[int, ...]]:
    """Free spaces of the panel for the poles of a circuit, on legs that no other pole is on."""
    free = free_spaces(house, circuit)
    for space in sorted(free):
        poles = tuple(range(space, space + 2 * circuit.poles, 2))
        legs = [leg(each) for each in poles]
        if free.issuperset(poles) and other_legs.isdisjoint(legs):
            yield poles


@rule(
    NAME,
    topic="circuits",
    title="Multiwire and 240 V circuits",
    tell=tell,
    scope=Scope.WIRING,
    facts=MultiwireFacts,
    fixes=_fixes,
)
def multiwire_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Two circuits that share a neutral are on opposite legs and open together.

    On one leg their currents would add up in the neutral. The two poles of one breaker are on
    opposite legs too, or its load has no 240 V. Spaces of a panel are numbered left and right by
    rows, and the legs take turns from row to row.
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
    spaces = [space for circuit in circuits for space in circuit.slots]
    poles = tuple(MultiwirePole(space, leg(space)) for space in sorted(spaces))
    panels = tuple(circuit.panel for circuit in circuits)
    common_trip = _trip(circuits)
    faults: set[MultiwireFault] = set()
    missing: set[MultiwireMissing] = set()
    if legs.value:
        _judge_legs(panels, poles, faults, missing)
    if together and common_trip is None:
        missing.add(MultiwireMissing.HANDLE)
    elif together and not common_trip:
        faults.add(MultiwireFault.APART)
    facts = MultiwireFacts(
        tuple(circuit.id for circuit in circuits),
        panels,
        poles,
        together,
        common_trip,
        frozenset(faults),
        frozenset(missing),
    )
    verdict = fault_verdict(faults, missing)
    spot = site.circuit_spot(circuits[0])
    return Finding(this, circuits[0].id, verdict, spot, facts, tuple(limits))


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


def _judge_legs(
    panels: tuple[str, ...],
    poles: tuple[MultiwirePole, ...],
    faults: set[MultiwireFault],
    missing: set[MultiwireMissing],
) -> None:
    """Whether the poles are on opposite legs of one panel."""
    if len(set(panels)) > 1:
        faults.add(MultiwireFault.TWO_PANELS)
    elif len(poles) < len(LEGS):
        missing.add(MultiwireMissing.SPACES)
    elif len({pole.leg for pole in poles}) < len(LEGS):
        faults.add(MultiwireFault.ONE_LEG)


def leg(slot: int) -> str:
    """The leg of a panel space: 1 and 2 on the first, 3 and 4 on the second, and so on by turns."""
    return LEGS[(slot - 1) // 2 % 2]
