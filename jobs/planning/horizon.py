"""The weeks ahead as slots, and dates as slots among them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from config.messages.message import Joined, Value
from config.messages.saying import said

from .inspection_messages import WEEKS_CLOSED
from .inspections import InspectionRules, earliest_inspection
from .working_days import Calendar, NeverOpen

DAY = timedelta(days=1)
FAR = 400  # days


@dataclass(frozen=True, slots=True)
class Horizon:
    """The working days of the coming weeks, each in parts."""

    days: tuple[date, ...]
    first: date
    """The day from which they are counted, worked or not."""
    calendar: Calendar
    parts: int = 2
    from_hour: time = time(8)
    part_minutes: int = 240
    break_minutes: int = 30

    @property
    def size(self) -> int:
        """How many slots there are."""
        return len(self.days) * self.parts

    def from_day(self, day: date) -> int:
        """The first slot that is not before that day; below 0 for a day gone by, by as many
        working days as lie between; `size` and above past the last. Farther than `FAR` days from
        the weeks no day makes a difference.
        """
        if day < self.first:
            span = min((self.first - day).days, FAR)
            gone = sum(self.calendar.is_open(self.first - n * DAY) for n in range(1, span + 1))
            return -gone * self.parts
        before = 0
        for each in self.days:
            if each < day:
                before += 1
        if before == len(self.days) and self.days:
            after = self.days[-1] + DAY
            span = min((day - after).days, FAR)
            before += sum(self.calendar.is_open(after + n * DAY) for n in range(max(0, span)))
        return before * self.parts

    def part_starts(self, part: int) -> time:
        """The hour at which a part of the day begins."""
        minutes = part * (self.part_minutes + self.break_minutes)
        return (datetime.combine(self.first, self.from_hour) + timedelta(minutes=minutes)).time()

    def part_ends(self, part: int) -> time:
        """The hour at which it ends."""
        start = datetime.combine(self.first, self.part_starts(part))
        return (start + timedelta(minutes=self.part_minutes)).time()

    def part_at(self, hour: time) -> int:
        """The part of the day that an hour falls in, or the next."""
        for p in range(self.parts):
            if hour < self.part_ends(p):
                return p
        return self.parts - 1

    def slot_from(self, moment: datetime) -> int:
        """The first slot in which something from that moment on can be."""
        day = self.from_day(moment.date())
        if moment.date() in self.days:
            return day + self.part_at(moment.time())
        return max(0, day)


def horizon(
    calendar: Calendar,
    first: date,
    weeks: int,
    *,
    parts: int = 2,
    from_hour: time = time(8),
    part_minutes: int = 240,
    break_minutes: int = 30,
) -> Horizon:
    """The working days of so many weeks. Raises NeverOpen when there is none among them."""
    open_days = []
    for n in range(7 * weeks):
        if calendar.is_open(day := first + n * DAY):
            open_days.append(day)
    days = tuple(open_days)
    if not days:
        raise NeverOpen(WEEKS_CLOSED(n=weeks, day=first, why=_closed(calendar, first, weeks)))
    return Horizon(days, first, calendar, parts, from_hour, part_minutes, break_minutes)


def _closed(calendar: Calendar, first: date, weeks: int) -> Value:
    """Why these weeks are closed: a few of the reasons."""
    why: dict[str, Value] = {}
    for n in range(7 * weeks):
        closed = calendar.closed_because(first + n * DAY)
        why[said(closed)] = closed
    return Joined(tuple(why[words] for words in sorted(why)[:4]), ", ")


def notice_table(weeks: Horizon, rules: InspectionRules, asked: datetime) -> tuple[int, ...]:
    """For each slot r, the first slot in which the authority could come when it is asked as
    soon as the work before slot r is done; slot 0 stands for the moment given (aware).
    """
    earliest = []
    for moment in _moments(weeks, rules, asked):
        earliest.append(_first(weeks, rules, moment))
    return tuple(earliest)


def asked_table(weeks: Horizon, rules: InspectionRules, asked: datetime) -> tuple[int, ...]:
    """The same for an inspection that was asked for at that moment already."""
    first = _first(weeks, rules, asked)
    return tuple(max(first, ready) for ready in range(weeks.size + 1))


def _moments(weeks: Horizon, rules: InspectionRules, asked: datetime) -> list[datetime]:
    moments = [asked]
    for slot in range(weeks.size):
        day, part = weeks.days[slot // weeks.parts], slot % weeks.parts
        ends = datetime.combine(day, weeks.part_ends(part), rules.zone)
        moments.append(max(ends, asked))
    return moments


def _first(weeks: Horizon, rules: InspectionRules, moment: datetime) -> int:
    try:
        return weeks.slot_from(earliest_inspection(rules, moment).starts)
    except NeverOpen:
        return weeks.size


def inspection_windows(weeks: Horizon, rules: InspectionRules) -> frozenset[int]:
    """The slots in which the authority could be on site at all."""
    slots = []
    for slot in range(weeks.size):
        if (
            rules.calendar.is_open(day := weeks.days[slot // weeks.parts])
            and day.weekday() in rules.inspections_on
            and weeks.part_starts(slot % weeks.parts) < rules.to_hour
            and weeks.part_ends(slot % weeks.parts) > rules.from_hour
        ):
            slots.append(slot)
    return frozenset(slots)


def per_slot(weeks: Horizon, of_day: Callable[[date], int]) -> tuple[int, ...]:
    """A figure of each day, slot by slot."""
    days = []
    for day in weeks.days:
        for _ in range(weeks.parts):
            days.append(of_day(day))
    return tuple(days)
