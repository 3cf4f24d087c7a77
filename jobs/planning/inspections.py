"""The first inspection that an authority can be asked for, with its working."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from config.messages.message import Listed, Value, WeekDay

from . import inspection_messages as words
from .weekday_messages import weekday
from .working_days import LONGEST_SEARCH, Calendar, NeverOpen

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class InspectionRules:
    """What an authority requires before it comes, and when it comes."""

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
    working: tuple[Value, ...]


def earliest_inspection(rules: InspectionRules, asked: datetime) -> Earliest:
    """The first bookable window for a request made at that moment (aware).

    Raises ValueError for a moment without a zone, NeverOpen when no day would ever do.
    """
    if asked.tzinfo is None:
        raise ValueError("the moment of asking must have a time zone")
    local = asked.astimezone(rules.zone)
    working: list[Value] = []
    counted = _counts_from(rules, local, working)
    day = _after_days(rules, counted, working)
    after = _after_hours(rules, local, counted, working)
    starts = _first_window(rules, day, after, working)
    ends = datetime.combine(starts.date(), rules.to_hour, rules.zone)
    working.append(words.WINDOW(starts=starts, ends=ends.time()))
    return Earliest(starts, ends, tuple(working))


def _counts_from(rules: InspectionRules, local: datetime, working: list[Value]) -> date:
    """The working day that the request counts from."""
    today = local.date()
    working.append(words.REQUESTED(moment=local))
    closed = rules.calendar.closed_because(today)
    late = rules.cut_off is not None and local.time() > rules.cut_off
    if not (closed or late):
        return today
    counted = rules.calendar.next_open(today)
    if closed:
        working.append(words.CLOSED_THAT_DAY(why=closed, day=WeekDay(counted)))
    elif rules.cut_off is not None:
        working.append(words.AFTER_CUT_OFF(hour=rules.cut_off, day=WeekDay(counted)))
    return counted


def _after_days(rules: InspectionRules, counted: date, working: list[Value]) -> date:
    day = counted
    for _ in range(rules.notice_days):
        later = rules.calendar.next_open(day)
        working.extend(_passed_over(rules.calendar, day, later))
        day = later
    if rules.notice_days:
        working.append(words.NOTICE_DAYS(n=rules.notice_days, day=WeekDay(day)))
    return day


def _passed_over(calendar: Calendar, first: date, last: date) -> Iterator[Value]:
    """The closed days between two days, weekends aside."""
    day = first + DAY
    while day < last:
        if day.weekday() in calendar.weekdays:
            yield words.NOT_COUNTED(day=WeekDay(day), why=calendar.closed_because(day))
        day += DAY


def _after_hours(
    rules: InspectionRules, local: datetime, counted: date, working: list[Value]
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
    passed = wall.replace(tzinfo=rules.zone)
    working.append(words.NOTICE_HOURS(n=rules.notice_hours, moment=passed))
    return passed


def _first_window(
    rules: InspectionRules, day: date, after: datetime, working: list[Value]
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
                working.append(words.CLOSED(day=WeekDay(candidate), why=closed))
            continue
        if candidate.weekday() not in rules.inspections_on:
            working.append(words.NO_INSPECTIONS(day=WeekDay(candidate)))
            continue
        return max(after, starts, key=lambda moment: moment.replace(tzinfo=None))
    if not rules.inspections_on:
        raise NeverOpen(words.NO_INSPECTION_DAY())
    names = [weekday(number) for number in sorted(rules.inspections_on)]
    raise NeverOpen(words.NEVER_WORKED(weekdays=Listed(tuple(names))))
