"""The beat, which goes on when the clock of the machine is set back.

Celery's own keeps by the clock of the wall when each task ran last and is due next, and waits until
that clock is there again: an hour set back is an hour in which no job is swept and nothing is sent.
"""

from datetime import timedelta
from typing import Any

from celery.beat import PersistentScheduler


class Scheduler(PersistentScheduler):
    """Celery's own, but a task that ran at a moment that is yet to come is due now."""

    def tick(self, *given: Any, **named: Any) -> float:
        """Run one task that is due; seconds until the next is."""
        entries = self.schedule.values()
        ahead = []
        for each in entries:
            if each.last_run_at and each.last_run_at > each.default_now():
                ahead.append(each)
        for entry in ahead:
            every = getattr(
                entry.schedule, "run_every", timedelta()
            )  # one of the calendar has none
            entry.last_run_at = entry.default_now() - every
        if ahead:
            self.populate_heap()
        return super().tick(*given, **named)
