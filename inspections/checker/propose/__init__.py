"""Proposals: what would finish a house, computed, with the proof that nothing smaller does."""

from .proposal import Proposal, Unsolved, accepted
from .wall_receptacles import propose_wall_receptacles

__all__ = ["Proposal", "Unsolved", "accepted", "propose_wall_receptacles"]
