"""The notices of people, how they are reached, and what was sent."""

from .deliveries import Delivery, Lane, State, Try
from .feeds import Feed
from .notices import Notice, NoticeKind
from .people import CHANNELS, Address, Channel, Gateway, GatewayKind, Habits, Wish
from .rules import NoticeRules

__all__ = [
    "CHANNELS",
    "Address",
    "Channel",
    "Delivery",
    "Feed",
    "Gateway",
    "GatewayKind",
    "Habits",
    "Lane",
    "Notice",
    "NoticeKind",
    "NoticeRules",
    "State",
    "Try",
    "Wish",
]
