"""The channels: how words leave this machine, and what a refusal means."""

from .base import ChannelDown, DeliveryRefused, Later, Sender
from .registry import sender_for

__all__ = ["ChannelDown", "DeliveryRefused", "Later", "Sender", "sender_for"]
