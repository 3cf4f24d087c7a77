"""What was recorded of a house, and copies of what follows."""

from .amendments import Amendment
from .audits import AuditedShop, AuditRun
from .carried import CarriedAnswers
from .cover_releases import AreaStanding, CoverRelease, JobStanding, WithdrawalAnswer
from .fact_corrections import FactCorrection
from .feed import FeedNumber
from .houses import PASSING, Given, HouseRevision, Item, Observation, Outcome
from .inspections import (
    CONCEALING,
    INSULATIONS,
    Acceptance,
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionEvent,
    InspectionKind,
    InsulationChoice,
    JobAnswer,
    TradeReport,
)
from .links import Link
from .milestones import MilestoneReached
from .packs import Pack
from .photographs import DeficiencyPhotograph, Photograph
from .record import RecordEntry
from .site_changes import SiteChange, SiteChangeAnswer

__all__ = [
    "CONCEALING",
    "INSULATIONS",
    "PASSING",
    "Acceptance",
    "Amendment",
    "Answer",
    "AreaStanding",
    "AuditRun",
    "AuditedShop",
    "CarriedAnswers",
    "CoverRelease",
    "Deficiency",
    "DeficiencyPhotograph",
    "FactCorrection",
    "FeedNumber",
    "Given",
    "Happening",
    "HouseRevision",
    "Inspection",
    "InspectionEvent",
    "InspectionKind",
    "InsulationChoice",
    "Item",
    "JobAnswer",
    "JobStanding",
    "Link",
    "MilestoneReached",
    "Observation",
    "Outcome",
    "Pack",
    "Photograph",
    "RecordEntry",
    "SiteChange",
    "SiteChangeAnswer",
    "TradeReport",
    "WithdrawalAnswer",
]
