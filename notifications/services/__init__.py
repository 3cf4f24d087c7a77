"""Writes of notices: one function a use."""

from .escalation import escalate, escalations_due
from .feeds import feed_open, feed_withdraw
from .notices import notice_see, shop_due, shop_follow, shops_due
from .outbox import delivery_retry, lanes_due
from .rules import rules_set
from .sending import bounced, deliver
from .wishes import (
    address_add,
    address_remove,
    address_resume,
    gateway_add,
    habits_set,
    seen_by_link,
    stop_kind,
    wish_set,
)

__all__ = [
    "address_add",
    "address_remove",
    "address_resume",
    "bounced",
    "deliver",
    "delivery_retry",
    "escalate",
    "escalations_due",
    "feed_open",
    "feed_withdraw",
    "gateway_add",
    "habits_set",
    "lanes_due",
    "notice_see",
    "rules_set",
    "seen_by_link",
    "shop_due",
    "shop_follow",
    "shops_due",
    "stop_kind",
    "wish_set",
]
