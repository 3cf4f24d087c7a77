"""Appliances that have a circuit to themselves."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..rulebook import Limit
from ..site import HouseByCode
from ..spot import Spot
from ..words import listed, plural

NAME = "own-circuits"
Load = tuple[str, str, tuple[str, ...], Spot]
"""The box or appliance, what it is there for, its circuits, and where it is."""


def tell(finding: Finding) -> FindingWords:
    """The appliance, its circuit and what shares it."""
    data = finding.facts
    who, others = data["appliance"], data["others"]
    name = data["circuit"] or "not recorded"
    says = {
        Verdict.MEETS: f"The {who} has circuit {name} to itself.",
        Verdict.SHORT: f"The {who} shares circuit {name} with {listed(others)}.",
        Verdict.UNKNOWN: f"Nobody recorded which circuit feeds the {who}.",
    }
    remedies = {
        Verdict.SHORT: f"Give the {who} a circuit of its own.",
        Verdict.UNKNOWN: "Follow its cable and record the circuit.",
    }
    figure = "not recorded"
    if data["circuit"]:
        figure = plural(len(others), "other outlet")
    working = (f"circuit {name}: {listed([who, *others])}",)
    return verdict_words(finding, figure, "no other outlet", working, says, remedies)


@rule(
    NAME, topic="circuits", title="Appliances on their own circuit", tell=tell, scope=Scope.WIRING
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
    for subject, name, circuits, spot in loads:
        word = next((word for word in words if word in name.lower()), None)
        if word is None or subject in seen:
            continue
        seen.add(subject)
        others = _others(loads, circuits, word)
        names = []
        for circuit in circuits:
            names.append(site.circuits[circuit].name)
        data = {
            "appliance": name.lower(),
            "word": word,
            "circuit": listed(names),
            "others": others,
        }
        verdict = Verdict.MEETS
        if others:
            verdict = Verdict.SHORT
        elif not circuits:
            verdict = Verdict.UNKNOWN
        yield Finding(this, subject, verdict, spot, data, (words[word],))


def _words(site: HouseByCode) -> dict[str, Limit]:
    """The words for such appliances, each with the limit that names it."""
    words: dict[str, Limit] = {}
    for key in ("appliances", "further"):
        limit = site.rulebook.get(f"{NAME}.{key}")
        if limit:
            words |= dict.fromkeys(limit.value, limit)
    return words


def _others(loads: list[Load], circuits: tuple[str, ...], word: str) -> list[str]:
    """What else is on those circuits and is not named as the same appliance."""
    others = {}
    for subject, name, shared, _ in loads:
        if set(shared) & set(circuits) and word not in name.lower():
            others[subject] = True
    return list(others)


def _loads(site: HouseByCode) -> Iterator[Load]:
    """Everything that takes current, with its circuits."""
    for circuit in site.house.circuits:
        for box, device in site.supply.outlets(circuit.id):
            circuits = site.supply.of(box, device)
            yield box.id, device.dedicated_to or "", circuits, site.box_spot(box)
    for box, device in site.supply.astray:
        if device.dedicated_to:
            yield box.id, device.dedicated_to, (), site.box_spot(box)
    fed: dict[str, tuple[str, ...]] = {}
    for circuit in site.house.circuits:
        for appliance in site.supply.appliances[circuit.id]:
            fed[appliance.id] = (*fed.get(appliance.id, ()), circuit.id)
    for appliance in site.house.appliances:
        spot = site.free_spot(site.rooms[appliance.room], appliance.name)
        yield appliance.id, appliance.name, fed.get(appliance.id, ()), spot
