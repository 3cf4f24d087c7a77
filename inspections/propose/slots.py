"""Panel spaces for new circuits, their loads balanced over the two legs."""

from collections.abc import Sequence
from dataclasses import replace

from inspections.checker.house import House
from inspections.checker.house.power import Circuit, Panel
from inspections.checker.rules.multiwire_circuits import leg
from inspections.loads.balance import CannotBalance, Single, balance

from .proposal import Found, Proposal, ProposalKind, Unsolved

OUTLET_VA = 180  # a nominal load of an outlet; common practice, no source
KITCHEN_VA = 1500  # of a circuit of 20 A; the same


def slotted(house: House, panel: Panel, proposals: Sequence[Proposal]) -> list[Found]:
    """The proposals with spaces for their circuits, and what is missing where they cannot fit."""
    if panel.spaces is None:
        why = "nobody recorded how many spaces the panel has; circuits get none yet"
        return [*proposals, Unsolved(panel.id, why, ProposalKind.CIRCUITS)]
    free = _free(house, panel)
    asked = sum(circuit.poles for each in proposals for circuit in each.circuits)
    if asked > len(free):
        why = f"{asked} spaces are needed and {len(free)} are free: take a larger panel"
        return [*proposals, Unsolved(panel.id, why, ProposalKind.CIRCUITS)]
    places: dict[str, tuple[int, ...]] = {}
    for circuit in (c for each in proposals for c in each.circuits if c.poles == 2):
        pair = None
        for s in free:
            if s + 2 in free:
                pair = (s, s + 2)
                break
        if pair is None:
            why = "no two spaces one above the other are free for a two-pole breaker"
            return [*proposals, Unsolved(panel.id, why, ProposalKind.CIRCUITS)]
        places[circuit.id] = pair
        free = [slot for slot in free if slot not in pair]
    singles = []
    for each in proposals:
        if each.circuits[0].poles == 1:
            singles.append(each)
    try:
        places |= _singles(singles, free)
    except CannotBalance as refused:
        return [*proposals, Unsolved(panel.id, str(refused), ProposalKind.CIRCUITS)]
    placed: list[Found] = []
    for each in proposals:
        placed.append(_placed(each, places))
    return placed


def _free(house: House, panel: Panel) -> list[int]:
    taken = set()
    for c in house.circuits:
        if c.panel == panel.id:
            for slot in c.slots:
                taken.add(slot)
    unplaced = sum(c.poles for c in house.circuits if c.panel == panel.id and not c.slots)
    free = []
    for slot in range(1, (panel.spaces or 0) + 1):
        if slot not in taken:
            free.append(slot)
    if unplaced:
        return free[: len(free) - unplaced]
    return free


def _singles(proposals: Sequence[Proposal], free: Sequence[int]) -> dict[str, tuple[int, ...]]:
    """A space for each single-pole circuit, on the leg that leaves the two most alike."""
    by_leg = {}
    for name in ("A", "B"):
        by_leg[name] = [slot for slot in free if leg(slot) == name]
    loads = []
    for each in proposals:
        loads.append(Single(each.circuits[0].id, _va(each)))
    chosen = {}
    if loads:
        chosen = balance(loads, len(by_leg["A"]), len(by_leg["B"])).legs
    by_name: dict[str, tuple[int, ...]] = {}
    for name, on in chosen.items():
        by_name[name] = (by_leg[on].pop(0),)
    return by_name


def _va(proposal: Proposal) -> int:
    circuit: Circuit = proposal.circuits[0]
    outlets = sum(fact.name == "circuit" for fact in proposal.facts)
    if circuit.breaker_a >= 20:
        return KITCHEN_VA
    return OUTLET_VA * max(outlets, 1)


def _placed(proposal: Proposal, places: dict[str, tuple[int, ...]]) -> Proposal:
    (circuit,) = proposal.circuits
    slots = places[circuit.id]
    said = f"{proposal.says}, spaces {', '.join(map(str, slots))}"
    return replace(proposal, circuits=(circuit.model_copy(update={"slots": slots}),), says=said)
