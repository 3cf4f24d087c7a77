"""Writes to shops, people and jobs. Each is one use, one transaction, the actor first."""

from .authorities import authority_add, authority_change, authority_templates
from .factors import (
    TooManyTries,
    factor_begin,
    factor_check,
    factor_codes,
    factor_confirm,
    factor_end,
    factor_lift,
    factor_lift_by_server,
    factor_live,
    factor_pending,
)
from .jobs import check_of_shop, job_open
from .people import (
    contractor_add,
    invitation_accept,
    invitation_make,
    invitation_withdraw,
    language_set,
    locations_set,
    membership_change,
    membership_end,
)
from .shops import person_add, shop_open
from .tokens import token_make, token_revoke, token_used

__all__ = [
    "TooManyTries",
    "authority_add",
    "authority_change",
    "authority_templates",
    "check_of_shop",
    "contractor_add",
    "factor_begin",
    "factor_check",
    "factor_codes",
    "factor_confirm",
    "factor_end",
    "factor_lift",
    "factor_lift_by_server",
    "factor_live",
    "factor_pending",
    "invitation_accept",
    "invitation_make",
    "invitation_withdraw",
    "job_open",
    "language_set",
    "locations_set",
    "membership_change",
    "membership_end",
    "person_add",
    "shop_open",
    "token_make",
    "token_revoke",
    "token_used",
]
