"""Moments and days that come from outside, and the bounds of those that are on record. Pure.

Whatever a person or a program gives as a moment or a day is of one of the kinds below: a kind
says whether it may lie ahead, and how far. Services ask `refuse_outside`, which knows the clock at
the house; fields of forms and of the API ask the same kinds before a house is known.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Protocol
from zoneinfo import ZoneInfo

from config.messages.message import Text
from config.messages.saying import said
from jobs import moment_messages as words
from jobs.bounds import within_bounds

FIRST_DAY = date(2000, 1, 1)
"""Nothing that this program keeps happened before."""
FIRST_MOMENT = datetime.combine(FIRST_DAY, time(), UTC)
CLOCKS_DIFFER = timedelta(minutes=2)
"""So far ahead of ours another clock may be; a moment within that counts as now."""
FIRST_TO_WAKE = ZoneInfo("Pacific/Kiritimati")
"""Where a day begins first: what lies ahead there lies ahead everywhere."""


@dataclass(frozen=True, slots=True)
class Days:
    """Days of one kind: from 2000 to today at the house, or to so many years after it."""

    years_ahead: int = 0

    def range(self, now: datetime, zone: ZoneInfo) -> tuple[date, date]:
        """The first and the last day of the kind, both included."""
        return FIRST_DAY, _years_after(now.astimezone(zone).date(), self.years_ahead)

    def fault(self, day: date, now: datetime, zone: ZoneInfo | None = None) -> Text | None:
        """What is wrong with a day and what would be right; None when it is one of the kind.

        Before a house is known the last day is told in words: a date would be that of another
        place, and the house would then refuse the very day that was named.
        """
        first, last = self.range(now, zone or FIRST_TO_WAKE)
        if first <= day <= last:
            return None
        if zone is not None:
            return words.DAY_RANGE(day=day, first=first, last=last)
        if self.years_ahead:
            return words.DAY_AHEAD(day=day, first=first, n=self.years_ahead)
        return words.DAY_PAST(day=day, first=first)


@dataclass(frozen=True, slots=True)
class Moments:
    """Moments of one kind: from how far back to how far ahead of now, or between two fixed ones."""

    back: timedelta | None = None
    """None: back to `first`."""
    ahead: timedelta = CLOCKS_DIFFER
    first: datetime = FIRST_MOMENT
    last: datetime | None = None
    """None: so far as `ahead` reaches."""

    def range(self, now: datetime) -> tuple[datetime, datetime]:
        """The first and the last moment of the kind, both included."""
        if self.back is None:
            first = self.first
        else:
            first = now - self.back
        last = self.last
        if last is None:
            last = now + self.ahead
        return first, last

    def fault(self, moment: datetime, now: datetime, zone: ZoneInfo | None = None) -> Text | None:
        """What is wrong with a moment and what would be right; None when it is of the kind."""
        first, last = self.range(now)
        if first <= moment <= last:
            return None
        zone = zone or ZoneInfo("UTC")  # no house is known yet
        return words.MOMENT_RANGE(moment=at_place(moment, zone), remedy=self.asks(now, zone))

    def asks(self, now: datetime, zone: ZoneInfo) -> Text:
        """What would be right."""
        first, last = self.range(now)
        return words.MOMENT_ASKED(
            first=at_place(first, zone), last=at_place(last, zone), zone=str(zone)
        )


PAST_DAY = Days()
"""It happened: an application, an issue, a closing, a hookup."""
ANY_DAY = Days(years_ahead=20)
"""It may lie ahead: an expiry, a date promised or due, an absence, a plan."""
PAST_MOMENT = Moments()
"""It was seen, or known, by a clock that goes as ours does."""
BOOKABLE = Moments(back=timedelta(days=400), ahead=timedelta(days=800))
"""A window that was booked, or is."""
PHONE_CLOCK = Moments(first=datetime(1970, 1, 1, tzinfo=UTC), last=datetime(2100, 1, 1, tzinfo=UTC))
"""By the clock of a phone or a meter, which may be wrong by years and is set right by ours."""
LONGEST_WINDOW = timedelta(days=31)


class Kind(Protocol):
    """`Days` or `Moments`: each is asked of its own."""

    def fault(self, value: Any, now: datetime, zone: ZoneInfo | None = None, /) -> Text | None:
        """What is wrong with a value; None when it is of the kind."""


def first_look(now: datetime, opened: datetime) -> datetime:
    """The first moment of which a look can be on a job that was opened then."""
    return max(min(opened, now) - timedelta(days=1), FIRST_MOMENT)


def day_on_record(text: str) -> date:
    """A day that was kept as text, read as any other on record."""
    return within_bounds(date.fromisoformat(text))


class DayRefused(ValueError):
    """A text that names no day of a kind; `text` says why."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


class NotADay(DayRefused):
    """A text that names no day at all."""


def day_given(text: str, kind: Days, now: datetime) -> date:
    """The day that a text names. Raises DayRefused for one not of the kind, NotADay for none."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise NotADay(words.DAY_UNREAD(typed=text)) from None
    if fault := kind.fault(day, now):
        raise DayRefused(fault)
    return day


def moment_of_form(text: str) -> datetime | None:
    """A moment that a form of ours kept as text, read as any on record; None where it is none."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    if moment.tzinfo:
        return within_bounds(moment)
    return None


def at_place(moment: datetime, zone: ZoneInfo) -> datetime:
    """A moment by the clock of a place, also where no calendar goes so far."""
    try:
        return moment.astimezone(zone)
    except OverflowError:
        return within_bounds(moment).astimezone(zone)


def _years_after(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # the 29th of February of a year that has none
        return day.replace(year=day.year + years, day=28)
