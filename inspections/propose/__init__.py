"""Proposals: what would finish a house, computed, with the proof that nothing smaller does."""

from .counter_receptacles import propose_counter_receptacles
from .finish import Finished, finish
from .places import STUD_SPACING_MM
from .proposal import Found, Kind, NotMissing, Proposal, Unsolved, accepted
from .wall_receptacles import propose_wall_receptacles
from .wants import USUAL, Wants

__all__ = [
    "STUD_SPACING_MM",
    "USUAL",
    "Finished",
    "Found",
    "Kind",
    "NotMissing",
    "Proposal",
    "Unsolved",
    "Wants",
    "accepted",
    "finish",
    "propose_counter_receptacles",
    "propose_wall_receptacles",
]
