"""Moments and days: at the house, and within the bounds that what comes from outside has."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

EARLIEST = date(2000, 1, 1)
BEGINNING = datetime(2000, 1, 1, tzinfo=UTC)
SKEW = timedelta(minutes=2)
"""So far ahead a clock may be that is right enough."""
BOOKED_BACK, BOOKED_AHEAD = timedelta(days=400), timedelta(days=800)
LONGEST_WINDOW = timedelta(days=31)
DAYS_AHEAD = timedelta(days=20 * 366)
"""A little over 20 years, so that a leap day more or less is no difference."""


def day_at(moment: datetime, zone: ZoneInfo) -> date:
    """The day at the house. At either end of the calendar, the day by UTC."""
    try:
        return moment.astimezone(zone).date()
    except OverflowError:
        return moment.date()


def midnight(day: date, zone: ZoneInfo) -> datetime | None:
    """The first moment of a day at the house; None where the calendar ends."""
    try:
        return datetime.combine(day, time(), zone).astimezone(UTC)
    except OverflowError:
        return None


def days_later(day: date, days: int) -> date | None:
    """So many days later; None beyond the end of the calendar."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return None


@dataclass(frozen=True, slots=True)
class GivenTime:
    """A moment or a day that came from outside, and when it was recorded."""

    name: str
    value: datetime | date
    recorded: datetime
    zone: ZoneInfo

    def past(self) -> bool:
        """Whether it lies in its bounds as something that has happened."""
        if isinstance(self.value, datetime):
            return BEGINNING <= self.value <= self.recorded + SKEW
        return EARLIEST <= self.value <= day_at(self.recorded, self.zone)

    def ahead(self) -> bool:
        """Whether it lies in its bounds as a day that may be yet to come."""
        assert not isinstance(self.value, datetime)
        return EARLIEST <= self.value <= day_at(self.recorded, self.zone) + DAYS_AHEAD


def window_fits(starts: datetime, ends: datetime, recorded: datetime) -> bool:
    """Whether a booked window lies in its bounds."""
    begins = recorded - BOOKED_BACK <= starts <= recorded + BOOKED_AHEAD
    return begins and starts < ends <= recorded + BOOKED_AHEAD and ends - starts <= LONGEST_WINDOW
