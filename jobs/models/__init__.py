"""Who works for whom, on which house, in which crew, and when."""

from .authorities import Authority
from .base import Record, moment_of_id, new_id
from .crews import (
    Absence,
    Crew,
    CrewPlace,
    DriveTime,
    PersonSkill,
    Site,
    Skill,
    WorkRules,
)
from .factors import RecoveryCode, SecondFactor
from .invitations import Invitation
from .jobs import Area, Job, Permit
from .plans import DayList, OwnTask, Plan, PlannedWork, PromisedDate, WorkReport
from .sessions import OpenSession, WayBack
from .shops import Builder, Membership, Person, Role, Shop
from .tokens import ApiToken

__all__ = [
    "Absence",
    "ApiToken",
    "Area",
    "Authority",
    "Builder",
    "Crew",
    "CrewPlace",
    "DayList",
    "DriveTime",
    "Invitation",
    "Job",
    "Membership",
    "OpenSession",
    "OwnTask",
    "Permit",
    "Person",
    "PersonSkill",
    "Plan",
    "PlannedWork",
    "PromisedDate",
    "Record",
    "RecoveryCode",
    "Role",
    "SecondFactor",
    "Shop",
    "Site",
    "Skill",
    "WayBack",
    "WorkReport",
    "WorkRules",
    "moment_of_id",
    "new_id",
]
