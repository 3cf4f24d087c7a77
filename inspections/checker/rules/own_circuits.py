"""Appliances that have a circuit to themselves."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Listed, message
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.on_circuit import (
    TRACE,
    CircuitLoad,
    appliance_load,
    device_load,
    every_load,
    few_loads,
)
from inspections.checker.asking.points import NOT_RECORDED, STILL_MISSING
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.fixtures import FixtureKind
from ..house.nouns import noun
from ..house.service import ApplianceKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..spot import Spot

NAME = "own-circuits"
FURNACE = message(f"{NAME}.furnace", "furnace")
VACUUM = message(f"{NAME}.vacuum", "central vacuum")
CALLED = {
    "vacuum": VACUUM(),
    "furnace": FURNACE(),
    "refrigerator": noun(FixtureKind.REFRIGERATOR),
    "car charg": noun(ApplianceKind.VEHICLE_CHARGING),
    "vehicle charg": noun(ApplianceKind.VEHICLE_CHARGING),
}
"""The appliances by the words that rulebooks find them by."""
OK = message(
    f"{NAME}.ok",
    "Circuits {circuits} feed only the {appliance}.",
    one="Circuit {circuits} feeds only the {appliance}.",
)
SHARES = message(
    f"{NAME}.shares",
    "The {appliance} shares circuits {circuits} with {others}; none allowed.",
    one="The {appliance} shares circuit {circuits} with {others}; none allowed.",
)
OWN = message(f"{NAME}.remedy", "Put it on a circuit of its own.")
WHICH = message(f"{NAME}.which", "which circuit feeds the {appliance}")
ALONE = message(f"{NAME}.alone", "on {circuits}: nothing else")
ALSO = message(f"{NAME}.also", "on {circuits}: also {others}")


@dataclass(frozen=True, slots=True)
class OwnFacts:
    """An appliance, its circuits and what else is on them."""

    word: str
    """The word of the rulebook that it was found by."""
    circuits: frozenset[str]
    others: frozenset[CircuitLoad]


@dataclass(frozen=True, slots=True)
class PlacedAppliance:
    """A load as it is called, with its circuits and where it is."""

    load: CircuitLoad
    name: str
    circuits: tuple[str, ...]
    spot: Spot


def tell(finding: Finding) -> FindingWords:
    """The appliance, its circuit and what shares it."""
    facts: OwnFacts = finding.facts
    appliance = CALLED.get(facts.word) or noun(ApplianceKind.OTHER)
    circuits, found, others = ids_listed(facts.circuits), len(facts.circuits), len(facts.others)
    if finding.verdict is Verdict.INFO_NEEDED:
        which = WHICH(appliance=appliance)
        says = NOT_RECORDED(what=Listed((which,)))
        return FindingWords(says, "", 0, (STILL_MISSING(what=which),), TRACE())
    if finding.verdict is Verdict.OK:
        says = OK(n=found, circuits=circuits, appliance=appliance)
        return FindingWords(says, others, 0, (ALONE(circuits=circuits),))
    sharing = few_loads(facts.others)
    says = SHARES(n=found, appliance=appliance, circuits=circuits, others=sharing)
    working = (ALSO(circuits=circuits, others=every_load(facts.others)),)
    return FindingWords(says, others, 0, working, OWN())


@rule(
    NAME,
    topic="circuits",
    title="Appliances on their own circuit",
    tell=tell,
    scope=Scope.WIRING,
    facts=OwnFacts,
)
def own_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Some appliances have a branch circuit that feeds nothing else.

    They are found by what a receptacle is there for or what the equipment is called. Equipment
    that belongs to the appliance, such as the pump of a furnace, may share its circuit: name it
    as the same appliance.
    """
    words = _words(site)
    if not words:
        return
    loads = list(_loads(site))
    seen: set[str] = set()
    for each in loads:
        subject = each.load.id
        word = next((word for word in words if word in each.name.lower()), None)
        if word is None or subject in seen:
            continue
        seen.add(subject)
        others = _others(loads, each.circuits, word)
        facts = OwnFacts(word, frozenset(each.circuits), others)
        verdict = Verdict.OK
        if others:
            verdict = Verdict.NOT_TO_CODE
        elif not each.circuits:
            verdict = Verdict.INFO_NEEDED
        yield Finding(this, subject, verdict, each.spot, facts, (words[word],))


def _words(site: HouseByCode) -> dict[str, Limit]:
    """The words for such appliances, each with the limit that names it."""
    words: dict[str, Limit] = {}
    for key in ("appliances", "further"):
        limit = site.rulebook.get(f"{NAME}.{key}")
        if limit:
            words |= dict.fromkeys(limit.value, limit)
    return words


def _others(
    loads: list[PlacedAppliance], circuits: tuple[str, ...], word: str
) -> frozenset[CircuitLoad]:
    """What else is on those circuits and is not named as the same appliance."""
    others = set()
    for each in loads:
        if set(each.circuits) & set(circuits) and word not in each.name.lower():
            others.add(each.load)
    return frozenset(others)


def _loads(site: HouseByCode) -> Iterator[PlacedAppliance]:
    """Everything that takes current, with its circuits."""
    for circuit in site.house.circuits:
        for outlet in site.supply.outlets(circuit.id):
            yield _outlet(site, outlet, site.supply.of(*outlet))
    for outlet in site.supply.astray:
        if outlet.device.dedicated_to:
            yield _outlet(site, outlet, ())
    fed: dict[str, tuple[str, ...]] = {}
    for circuit in site.house.circuits:
        for appliance in site.supply.appliances[circuit.id]:
            fed[appliance.id] = (*fed.get(appliance.id, ()), circuit.id)
    for appliance in site.house.appliances:
        spot = site.free_spot(site.rooms[appliance.room], appliance.name)
        circuits = fed.get(appliance.id, ())
        yield PlacedAppliance(appliance_load(appliance), appliance.name, circuits, spot)


def _outlet(
    site: HouseByCode, outlet: SuppliedDevice, circuits: tuple[str, ...]
) -> PlacedAppliance:
    name = outlet.device.dedicated_to or ""
    return PlacedAppliance(device_load(outlet), name, circuits, site.box_spot(outlet.box))
