"""The writes. Each is one use and one transaction; the acting person comes first."""

from .acceptances import acceptance_elapse, acceptance_waive
from .amendments import house_check_again, limit_amend, limit_restore
from .answers import Called, inspection_answer
from .clearances import Held, NotCleared, clearance_issue, clearance_withdraw, withdrawal_answer
from .consequences import OutOfOrder, WouldWithdraw
from .corrections import correction_accept, correction_leave, correction_record
from .deficiencies import deficiency_mend, deficiency_photograph
from .houses import AnotherRevision, house_record
from .insulation import insulation_choose
from .jobs import job_change
from .links import cover_link_make, link_acknowledge, link_withdraw, placard_make
from .milestones import milestone_record
from .observations import (
    FactsChanged,
    NothingToPass,
    item_observe,
    items_observe,
    observation_undo,
)
from .packs import pack_ask, pack_make, packs_due
from .permits import (
    permit_amend,
    permit_apply,
    permit_close,
    permit_correct,
    permit_extend,
    permit_issue,
)
from .photographs import photograph_add, photograph_open_ahead
from .settling import due_settle, job_settle, jobs_due, settled_or_set_aside
from .trades import trade_report
from .visits import ItemsOpen, NotNow, inspection_ask, inspection_happen
from .walked import Taken, TickState, Walked, walk_record

__all__ = [
    "AnotherRevision",
    "Called",
    "FactsChanged",
    "Held",
    "ItemsOpen",
    "NotCleared",
    "NotNow",
    "NothingToPass",
    "OutOfOrder",
    "Taken",
    "TickState",
    "Walked",
    "WouldWithdraw",
    "acceptance_elapse",
    "acceptance_waive",
    "clearance_issue",
    "clearance_withdraw",
    "correction_accept",
    "correction_leave",
    "correction_record",
    "cover_link_make",
    "deficiency_mend",
    "deficiency_photograph",
    "due_settle",
    "house_check_again",
    "house_record",
    "inspection_answer",
    "inspection_ask",
    "inspection_happen",
    "insulation_choose",
    "item_observe",
    "items_observe",
    "job_change",
    "job_settle",
    "jobs_due",
    "limit_amend",
    "limit_restore",
    "link_acknowledge",
    "link_withdraw",
    "milestone_record",
    "observation_undo",
    "pack_ask",
    "pack_make",
    "packs_due",
    "permit_amend",
    "permit_apply",
    "permit_close",
    "permit_correct",
    "permit_extend",
    "permit_issue",
    "photograph_add",
    "photograph_open_ahead",
    "placard_make",
    "settled_or_set_aside",
    "trade_report",
    "walk_record",
    "withdrawal_answer",
]
