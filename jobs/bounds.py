"""Between which moments what is on record is read. Pure."""

from datetime import UTC, date, datetime
from typing import TypeVar

Kept = TypeVar("Kept", date, datetime)
EARLIEST, LATEST = datetime(1900, 1, 1, tzinfo=UTC), datetime(9000, 1, 1, tzinfo=UTC)
"""What is read of a moment on record lies between these: a year more or less, or the clock of any
place, leads out of no calendar."""


def within_bounds(value: Kept) -> Kept:
    """A moment or day on record, as it is read: one beyond every calendar is the last within."""
    if isinstance(value, datetime):
        return min(max(value, EARLIEST), LATEST)
    return min(max(value, EARLIEST.date()), LATEST.date())
