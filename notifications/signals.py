"""Rung after commit when something was put into the outbox that may go at once."""

from django.dispatch import Signal

outbox_filled = Signal()
"""Sent with `lanes`, a set of lane and channel."""
