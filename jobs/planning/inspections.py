"""The first inspection that an authority can be asked for, with its working."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from .working_days import LONGEST_SEARCH, WEEKDAYS, Calendar, NeverOpen

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class InspectionRules:
    """What an authority asks before it comes, and when it comes."""

    zone: ZoneInfo
    calendar: Calendar = field(default_factory=Calendar)
    notice_days: int = 1
    """Working days from the day the request counts from to the inspection; 0: that same day."""
    notice_hours: int = 0
    """Hours, counted on working days alone, that must pass as well."""
    cut_off: time | None = None
    """A request after it counts from the next working day."""
    inspections_on: frozenset[int] = frozenset(range(5))
    """Weekdays on which this district is inspected, among the working days."""
    from_hour: time = time(8)
    to_hour: time = time(16)


@dataclass(frozen=True, slots=True)
class Earliest:
    """The first window in which an inspection can be, and how it was found."""

    starts: datetime
    ends: datetime
    working: tuple[str, ...]


def earliest_inspection(rules: InspectionRules, asked: datetime) -> Earliest:
    """The first bookable window for a request made at that moment (aware).

    Raises ValueError for a moment without a zone, NeverOpen when no day would ever do.
    """
    if asked.tzinfo is None:
        raise ValueError("the moment of asking must have a time zone")
    local = asked.astimezone(rules.zone)
    working: list[str] = []
    counted = _counts_from(rules, local, working)
    day = _after_days(rules, counted, working)
    after = _after_hours(rules, local, counted, working)
    starts = _first_window(rules, day, after, working)
    ends = datetime.combine(starts.date(), rules.to_hour, rules.zone)
    working.append(f"first window: {starts:%A %d %B %Y, %H:%M} to {ends:%H:%M}")
    return Earliest(starts, ends, tuple(working))


def _counts_from(rules: InspectionRules, local: datetime, working: list[str]) -> date:
    """The working day that the request counts from."""
    today = local.date()
    working.append(f"asked {local:%A %d %B %Y, %H:%M}")
    late = rules.cut_off is not None and local.time() > rules.cut_off
    if closed := rules.calendar.closed_because(today):
        why = f"closed that day ({closed})"
    elif late:
        why = f"after the cut-off of {rules.cut_off:%H:%M}"
    else:
        return today
    counted = rules.calendar.next_open(today)
    working.append(f"{why}, so it counts from {counted:%A %d %B}")
    return counted


def _after_days(rules: InspectionRules, counted: date, working: list[str]) -> date:
    day = counted
    for _ in range(rules.notice_days):
        later = rules.calendar.next_open(day)
        working.extend(_passed_over(rules.calendar, day, later))
        day = later
    if rules.notice_days:
        noun = "working days"
        if rules.notice_days == 1:
            noun = "working day"
        working.append(f"notice of {rules.notice_days} {noun}: {day:%A %d %B}")
    return day


def _passed_over(calendar: Calendar, first: date, last: date) -> Iterator[str]:
    """The closed days between two days, weekends aside."""
    day = first + DAY
    while day < last:
        if day.weekday() in calendar.weekdays:
            yield f"{day:%A %d %B} does not count ({calendar.closed_because(day)})"
        day += DAY


def _after_hours(
    rules: InspectionRules, local: datetime, counted: date, working: list[str]
) -> datetime:
    """The moment at which the hours of notice have passed, as the clock on the wall counts."""
    wall = local.replace(tzinfo=None)
    if counted != local.date():
        wall = datetime.combine(counted, time())
    if not rules.notice_hours:
        return wall.replace(tzinfo=rules.zone)
    left = timedelta(hours=rules.notice_hours)
    while (rest := datetime.combine(wall.date() + DAY, time()) - wall) < left:
        left -= rest
        wall = datetime.combine(rules.calendar.next_open(wall.date()), time())
    wall += left
    working.append(f"notice of {rules.notice_hours} hours on working days: {wall:%A %d %B, %H:%M}")
    return wall.replace(tzinfo=rules.zone)


def _first_window(
    rules: InspectionRules, day: date, after: datetime, working: list[str]
) -> datetime:
    """The first window on a day that is worked and inspected, once the notice has passed."""
    for ahead in range(LONGEST_SEARCH):
        candidate = day + ahead * DAY
        starts = datetime.combine(candidate, rules.from_hour, rules.zone)
        ends = datetime.combine(candidate, rules.to_hour, rules.zone)
        if after.replace(tzinfo=None) >= ends.replace(tzinfo=None):
            continue
        if closed := rules.calendar.closed_because(candidate):
            if candidate.weekday() in rules.calendar.weekdays:
                working.append(f"{candidate:%A %d %B} is closed ({closed})")
            continue
        if candidate.weekday() not in rules.inspections_on:
            working.append(f"{candidate:%A %d %B}: this district is not visited on that weekday")
            continue
        return max(after, starts, key=lambda moment: moment.replace(tzinfo=None))
    names = ", ".join(WEEKDAYS[number] for number in sorted(rules.inspections_on)) or "no weekday"
    raise NeverOpen(f"visits are on {names}, none of which is ever a working day")
