"""Panel spaces for new circuits, their loads balanced over the two legs."""

from collections.abc import Sequence
from dataclasses import replace

from config.messages.message import Joined, Text
from inspections.checker.house import House
from inspections.checker.house.power import Circuit, Panel
from inspections.checker.rules.multiwire_circuits import leg
from inspections.loads.balance import CannotBalance, Single, balance

from . import proposal_messages as says
from .proposal import Found, Proposal, ProposalKind, Unsolved

OUTLET_VA = 180  # a nominal load of an outlet; common practice, no source
KITCHEN_VA = 1500  # of a circuit of 20 A; the same


def slotted(house: House, panel: Panel, proposals: Sequence[Proposal]) -> list[Found]:
    """The proposals with spaces for their circuits, and what is missing where they cannot fit."""
    try:
        places = _spaces(house, panel, proposals)
    except (_NoSpaces, CannotBalance) as refused:
        return [*proposals, Unsolved(panel.id, refused.text, ProposalKind.CIRCUITS)]
    return [_placed(each, places) for each in proposals]


class _NoSpaces(Exception):
    """The panel cannot hold the circuits; says why."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


def _spaces(
    house: House, panel: Panel, proposals: Sequence[Proposal]
) -> dict[str, tuple[int, ...]]:
    """The spaces of each circuit. Raises _NoSpaces or CannotBalance."""
    if panel.spaces is None:
        raise _NoSpaces(says.NO_SPACES())
    free = _free(house, panel)
    circuits: list[Circuit] = []
    for each in proposals:
        circuits.extend(each.circuits)
    asked = sum(circuit.poles for circuit in circuits)
    if asked > len(free):
        raise _NoSpaces(says.TOO_FEW_SPACES(n=asked, free=len(free)))
    places: dict[str, tuple[int, ...]] = {}
    for circuit in circuits:
        if circuit.poles == 2:
            one, other = places[circuit.id] = _two_together(free)
            free.remove(one)
            free.remove(other)
    singles = [each for each in proposals if each.circuits[0].poles == 1]
    return places | _singles(singles, free)


def _two_together(free: Sequence[int]) -> tuple[int, int]:
    """The first two free spaces one above the other. Raises _NoSpaces."""
    for slot in free:
        if slot + 2 in free:
            return slot, slot + 2
    raise _NoSpaces(says.NO_PAIR())


def _free(house: House, panel: Panel) -> list[int]:
    taken: set[int] = set()
    unplaced = 0
    for circuit in house.circuits:
        if circuit.panel != panel.id:
            continue
        taken.update(circuit.slots)
        if not circuit.slots:
            unplaced += circuit.poles
    free = []
    for slot in range(1, (panel.spaces or 0) + 1):
        if slot not in taken:
            free.append(slot)
    if unplaced:
        return free[: len(free) - unplaced]
    return free


def _singles(proposals: Sequence[Proposal], free: Sequence[int]) -> dict[str, tuple[int, ...]]:
    """A space for each single-pole circuit, on the leg that leaves the two most alike."""
    by_leg: dict[str, list[int]] = {"A": [], "B": []}
    for slot in free:
        by_leg[leg(slot)].append(slot)
    loads = []
    for each in proposals:
        loads.append(Single(each.circuits[0].id, _va(each)))
    if not loads:
        return {}
    chosen = balance(loads, len(by_leg["A"]), len(by_leg["B"])).legs
    spaces: dict[str, tuple[int, ...]] = {}
    for name, on in chosen.items():
        spaces[name] = (by_leg[on].pop(0),)
    return spaces


def _va(proposal: Proposal) -> int:
    circuit: Circuit = proposal.circuits[0]
    outlets = 0
    for fact in proposal.facts:
        outlets += fact.name == "circuit"
    if circuit.breaker_a >= 20:
        return KITCHEN_VA
    return OUTLET_VA * max(outlets, 1)


def _placed(proposal: Proposal, places: dict[str, tuple[int, ...]]) -> Proposal:
    (circuit,) = proposal.circuits
    slots = places[circuit.id]
    said = says.IN_SPACES(what=proposal.says, spaces=Joined(slots, ", "))
    return replace(proposal, circuits=(circuit.model_copy(update={"slots": slots}),), says=said)
