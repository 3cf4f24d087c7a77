"""The channels: how words leave this machine, and what a refusal means."""

from .base import Later, Line, Refused, Sender
from .registry import sender_for

__all__ = ["Later", "Line", "Refused", "Sender", "sender_for"]
