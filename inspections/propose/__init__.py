"""Proposals: what would finish a house, computed, with the proof that nothing smaller does."""

from ..checker.house import House
from ..checker.rulebook import Rulebook
from .counter_receptacles import propose_counter_receptacles
from .places import STUD_SPACING_MM
from .proposal import Proposal, Unsolved, accepted
from .wall_receptacles import propose_wall_receptacles

__all__ = [
    "STUD_SPACING_MM",
    "Proposal",
    "Unsolved",
    "accepted",
    "propose_counter_receptacles",
    "propose_receptacles",
    "propose_wall_receptacles",
]


def propose_receptacles(
    house: House, book: Rulebook, spacing_mm: float = STUD_SPACING_MM
) -> tuple[House, list[Proposal | Unsolved]]:
    """The house with every receptacle that walls and counters lack, and the proposals made."""
    found: list[Proposal | Unsolved] = []
    for propose in (propose_wall_receptacles, propose_counter_receptacles):
        made = propose(house, book, spacing_mm)
        house = accepted(house, [each for each in made if isinstance(each, Proposal)])
        found += made
    return house, found
