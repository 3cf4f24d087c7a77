"""Moments and days that come from outside, and the bounds of those that are on record. Pure.

Whatever a person or a program gives as a moment or a day is of one of the kinds below: a kind
says whether it may lie ahead, and how far. Services ask `refuse_outside`, which knows the clock at
the house; fields of forms and of the API ask the same kinds before a house is known.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Protocol, TypeVar
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError

FIRST_DAY = date(2000, 1, 1)
"""Nothing that this program keeps happened before."""
FIRST_MOMENT = datetime.combine(FIRST_DAY, time(), UTC)
CLOCKS_DIFFER = timedelta(minutes=2)
"""So far ahead of ours another clock may be; a moment within that counts as now."""
EARLIEST, LATEST = datetime(1900, 1, 1, tzinfo=UTC), datetime(9000, 1, 1, tzinfo=UTC)
"""What is read of a moment on record lies between these: a year more or less, or the clock of any
place, leads out of no calendar."""
FIRST_TO_WAKE = ZoneInfo("Pacific/Kiritimati")
"""Where a day begins first: what lies ahead there lies ahead everywhere."""

Kept = TypeVar("Kept", date, datetime)


@dataclass(frozen=True, slots=True)
class Days:
    """Days of one kind: from 2000 to today at the house, or to so many years after it."""

    years_ahead: int = 0

    def range(self, now: datetime, zone: ZoneInfo) -> tuple[date, date]:
        """The first and the last day of the kind, both included."""
        return FIRST_DAY, _years_after(now.astimezone(zone).date(), self.years_ahead)

    def fault(self, day: date, now: datetime, zone: ZoneInfo | None = None) -> str:
        """What is wrong with a day and what would be right; empty when it is one of the kind.

        Before a house is known the last day is told in words: a date would be that of another
        place, and the house would then refuse the very day that was named.
        """
        first, last = self.range(now, zone or FIRST_TO_WAKE)
        if first <= day <= last:
            return ""
        said = f"{day.isoformat()} is out of range. Give a day from {first} to"
        if zone is not None:
            return f"{said} {last}."
        if self.years_ahead:
            return f"{said} {self.years_ahead} years from today."
        return f"{said} today at the house."


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

    def fault(self, moment: datetime, now: datetime, zone: ZoneInfo | None = None) -> str:
        """What is wrong with a moment and what would be right; empty when it is of the kind."""
        first, last = self.range(now)
        if first <= moment <= last:
            return ""
        zone = zone or ZoneInfo("UTC")  # no house is known yet
        said = f"{at_place(moment, zone):%Y-%m-%d %H:%M}"
        return f"{said} is out of range. {self.asks(now, zone)}"

    def asks(self, now: datetime, zone: ZoneInfo) -> str:
        """What would be right, in words."""
        first, last = (f"{at_place(each, zone):%Y-%m-%d %H:%M}" for each in self.range(now))
        return f"Give a moment from {first} to {last} ({zone})."


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

    def fault(self, value: Any, now: datetime, zone: ZoneInfo | None = None, /) -> str:
        """What is wrong with a value; empty when it is of the kind."""


def refuse_outside(
    now: datetime, zone: ZoneInfo | str, **given: tuple[Kind, date | datetime | None]
) -> None:
    """Refuse what is not of its kind: a ValidationError by field that tells the range.

    A field is given as its kind and its value; one that is None is nothing to refuse. `zone` is
    the clock of the house, or of the shop.
    """
    zone = ZoneInfo(str(zone))
    faults = {}
    for name, (kind, value) in given.items():
        if value is not None and (fault := kind.fault(value, now, zone)):
            faults[name] = [f"{label(name)}: {fault}"]
    if faults:
        raise ValidationError(faults)


def seen_by_now(moment: datetime, now: datetime, zone: str, opened: datetime) -> datetime:
    """When something was seen, counted as now where its maker's clock is a little ahead.

    Refused as `refuse_outside` does, and where it is a day or more before the job was opened.
    """
    looks = Moments(first=first_look(now, opened))
    refuse_outside(now, zone, seen_at=(looks, moment))
    return min(moment, now)


def first_look(now: datetime, opened: datetime) -> datetime:
    """The first moment of which a look can be on a job that was opened then."""
    return max(min(opened, now) - timedelta(days=1), FIRST_MOMENT)


def refuse_span(first: date | datetime, last: date | datetime, name: str) -> None:
    """Refuse a last day before the first, by the name of its field."""
    if last < first:
        raise ValidationError({name: [f"{label(name)}: {last} is before the first day, {first}."]})


def refuse_window(starts: datetime, ends: datetime) -> None:
    """Refuse an inspection's window that does not end after it starts, or lasts above a month."""
    if ends <= starts:
        raise ValidationError({"ends_at": ["ends at: give a moment after the window starts."]})
    if ends - starts > LONGEST_WINDOW:
        longest = f"{LONGEST_WINDOW.days} days"
        fault = f"ends at: the window is longer than {longest}. Give an earlier end."
        raise ValidationError({"ends_at": [fault]})


def label(name: str) -> str:
    """A field as people read it: `issued_on` is issued on."""
    return name.replace("_", " ")


def within_bounds(value: Kept) -> Kept:
    """A moment or day on record, as it is read: one beyond every calendar is the last within."""
    if isinstance(value, datetime):
        return min(max(value, EARLIEST), LATEST)
    return min(max(value, EARLIEST.date()), LATEST.date())


def day_on_record(text: str) -> date:
    """A day that was kept as text, read as any other on record."""
    return within_bounds(date.fromisoformat(text))


class NotADay(ValueError):
    """A text that names no day at all."""


def day_given(text: str, kind: Days, now: datetime) -> date:
    """The day that a text names. Raises ValueError, in words: NotADay, or none of the kind."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise NotADay(f"{text!r} is not a date; write it as 2026-03-16.") from None
    if fault := kind.fault(day, now):
        raise ValueError(fault)
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
