"""The one doorbell, rung after commit whenever a fact changed, and the answer to it."""

from django.dispatch import Signal

facts_changed = Signal()
"""Sent with `job_id` (UUID). A receiver queues the settling of that job and returns."""

job_settled = Signal()
"""Sent with `job_id` within the transaction that settles a job, for whatever else follows."""
