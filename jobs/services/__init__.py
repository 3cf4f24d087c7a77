"""Writes to shops, people and jobs. Each is one use, one transaction, the actor first."""

from .authorities import authority_add, authority_change, authority_templates
from .jobs import job_open
from .shops import person_add, shop_open

__all__ = [
    "authority_add",
    "authority_change",
    "authority_templates",
    "job_open",
    "person_add",
    "shop_open",
]
