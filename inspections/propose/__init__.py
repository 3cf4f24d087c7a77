"""Proposals: what would finish a house, computed, with the proof that nothing smaller does."""

from .counter_receptacles import propose_counter_receptacles
from .finish import Finished, finish_house
from .places import STUD_SPACING_MM
from .proposal import Found, NotMissing, Proposal, ProposalKind, Unsolved, with_proposals
from .wall_receptacles import propose_wall_receptacles
from .wants import USUAL, Wants

__all__ = [
    "STUD_SPACING_MM",
    "USUAL",
    "Finished",
    "Found",
    "NotMissing",
    "Proposal",
    "ProposalKind",
    "Unsolved",
    "Wants",
    "finish_house",
    "propose_counter_receptacles",
    "propose_wall_receptacles",
    "with_proposals",
]
