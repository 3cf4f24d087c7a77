"""Who works for whom, on which house."""

from .authorities import Authority
from .base import Record, new_id
from .jobs import Area, Job, Permit
from .shops import Contractor, Membership, Person, Role, Shop

__all__ = [
    "Area",
    "Authority",
    "Contractor",
    "Job",
    "Membership",
    "Permit",
    "Person",
    "Record",
    "Role",
    "Shop",
    "new_id",
]
