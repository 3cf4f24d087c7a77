"""Arc-fault and ground-fault protection for proposed circuits, where the rules ask for it."""

from collections.abc import Iterable
from dataclasses import replace

from config.messages.message import Value
from inspections.checker.finding import Verdict, rules
from inspections.checker.house import House
from inspections.checker.house.power import Circuit, Protection
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .proposal import Proposal, with_proposals


def protected(house: House, book: Rulebook, proposals: list[Proposal]) -> list[Proposal]:
    """The same circuits with the protection that the rules find missing on them."""
    site = HouseByCode(with_proposals(house, proposals), book)
    arcs = _bare(site, "arc-fault-protection")
    grounds = _near_tubs(site)
    for name in _bare(site, "ground-fault-protection"):
        box = site.boxes[name]
        for device in box.devices:
            grounds.update(site.supply.of(box, device))
    with_protection: list[Proposal] = []
    for each in proposals:
        circuits = tuple(_with(circuit, arcs, grounds) for circuit in each.circuits)
        with_protection.append(replace(each, circuits=circuits, says=_says(each, arcs, grounds)))
    return with_protection


def _bare(site: HouseByCode, rule: str) -> set[str]:
    subjects: set[str] = set()
    for finding in rules()[rule].check(site):
        if finding.verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED):
            subjects.add(finding.subject)
    return subjects


def _near_tubs(site: HouseByCode) -> set[str]:
    """Circuits of switches that stand so near a tub that they need ground-fault protection."""
    circuits: set[str] = set()
    for finding in rules()["tub-switches"].check(site):
        if finding.verdict is not Verdict.VERIFY or not finding.facts.wants_protection:
            continue
        for device in site.boxes[finding.subject].devices:
            if device.circuit:
                circuits.add(device.circuit)
    return circuits


def _protection(circuit: Circuit, arcs: Iterable[str], grounds: Iterable[str]) -> Protection | None:
    arc, ground = circuit.id in arcs, circuit.id in grounds
    if arc and ground:
        return Protection.DUAL
    if arc:
        return Protection.AFCI
    if ground:
        return Protection.GFCI
    return None


def _with(circuit: Circuit, arcs: Iterable[str], grounds: Iterable[str]) -> Circuit:
    return circuit.model_copy(update={"protection": _protection(circuit, arcs, grounds)})


def _says(proposal: Proposal, arcs: Iterable[str], grounds: Iterable[str]) -> Value:
    chosen = _protection(proposal.circuits[0], arcs, grounds)
    words = {
        Protection.DUAL: says.BOTH_FAULTS,
        Protection.AFCI: says.ARC_FAULT,
        Protection.GFCI: says.GROUND_FAULT,
    }
    if chosen:
        return says.WITH_PROTECTION(what=proposal.says, protection=words[chosen]())
    return proposal.says
