"""The one doorbell: rung after commit whenever a fact about a job changed."""

from django.dispatch import Signal

facts_changed = Signal()
"""Sent with `job_id` (UUID). A receiver queues the settling of that job and returns."""
