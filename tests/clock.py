"""A clock that a test sets: every `timezone.now()` of Django answers it."""

from datetime import datetime, timedelta

from django.utils import timezone


class Clock:
    """Time as the test has it."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        """The moment, a little later each time, since no two things happen at once."""
        self.now += timedelta(microseconds=1)
        return self.now

    def put(self, monkeypatch) -> "Clock":
        """Let Django tell this time for the rest of the test."""
        monkeypatch.setattr(timezone, "now", self)
        return self
