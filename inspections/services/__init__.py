"""The writes. Each is one use and one transaction; the acting person comes first."""

from .clearances import Held, NotCleared, clearance_issue, clearance_withdraw
from .houses import house_record
from .milestones import milestone_record
from .observations import NothingToPass, item_observe
from .permits import permit_apply, permit_issue
from .settling import job_settle, jobs_due

__all__ = [
    "Held",
    "NotCleared",
    "NothingToPass",
    "clearance_issue",
    "clearance_withdraw",
    "house_record",
    "item_observe",
    "job_settle",
    "jobs_due",
    "milestone_record",
    "permit_apply",
    "permit_issue",
]
