"""Refuses what lies outside the bounds of its kind, in words at the field it was given in."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError

from config.languages import said_later
from jobs import moment_messages as words
from jobs.moments import LONGEST_WINDOW, Kind, Moments, first_look


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
            faults[name] = [said_later(words.IN_FIELD(field=words.FIELDS[name](), fault=fault))]
    if faults:
        raise ValidationError(faults)


def refuse_span(first: date | datetime, last: date | datetime, name: str) -> None:
    """Refuse a last day before the first, by the name of its field."""
    if last < first:
        raise ValidationError({name: [said_later(words.SPAN_ENDS(last=last, first=first))]})


def refuse_window(starts: datetime, ends: datetime) -> None:
    """Refuse an inspection's window that does not end after it starts, or lasts above a month."""
    if ends <= starts:
        raise ValidationError({"ends_at": [said_later(words.WINDOW_ENDS())]})
    if ends - starts > LONGEST_WINDOW:
        fault = words.WINDOW_LONG(n=LONGEST_WINDOW.days)
        raise ValidationError({"ends_at": [said_later(fault)]})


def seen_by_now(moment: datetime, now: datetime, zone: str, opened: datetime) -> datetime:
    """When something was seen, counted as now where its maker's clock is a little ahead.

    Refused as `refuse_outside` does, and where it is a day or more before the job was opened.
    """
    looks = Moments(first=first_look(now, opened))
    refuse_outside(now, zone, seen_at=(looks, moment))
    return min(moment, now)
