"""What was recorded of a house, and copies of what follows."""

from .clearances import AreaStanding, Basis, Clearance, JobStanding
from .houses import HouseRevision, Item, Observation, Outcome
from .milestones import MilestoneReached

__all__ = [
    "AreaStanding",
    "Basis",
    "Clearance",
    "HouseRevision",
    "Item",
    "JobStanding",
    "MilestoneReached",
    "Observation",
    "Outcome",
]
