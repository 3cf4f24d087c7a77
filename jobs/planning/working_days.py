"""Working days of an authority: weekdays it works, public holidays, closures of its own."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache

import holidays

from config.messages.message import Text, Value

from .holiday_names import holiday_name
from .inspection_messages import CLOSED_OWN, NO_WEEKDAY
from .weekday_messages import weekday

LONGEST_SEARCH = 400  # days; an authority that is closed longer than a year is not one


class NeverOpen(Exception):
    """No day would ever do; the text says what rules them all out."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


@dataclass(frozen=True, slots=True)
class Calendar:
    """When an office works. `country` and `region` choose the public holidays (ISO 3166)."""

    weekdays: frozenset[int] = frozenset(range(5))
    """0 is Monday."""
    country: str = ""
    region: str = ""
    closures: Mapping[date, str] = field(default_factory=dict)
    """Days of its own on which it is closed, and why where somebody said."""

    def closed_because(self, day: date) -> Value:
        """Why the office is closed that day; empty when it is open."""
        if day in self.closures:
            return self.closures[day] or CLOSED_OWN()
        if self.country and (name := _holidays(self.country, self.region, day.year).get(day)):
            return holiday_name(str(name))
        if day.weekday() in self.weekdays:
            return ""
        return weekday(day.weekday())

    def is_open(self, day: date) -> bool:
        """Whether it is a working day."""
        return not self.closed_because(day)

    def next_open(self, day: date) -> date:
        """The first working day after that day. Raises NeverOpen when there is none."""
        for ahead in range(1, LONGEST_SEARCH):
            if self.is_open(later := day + timedelta(days=ahead)):
                return later
        raise NeverOpen(NO_WEEKDAY())


@cache
def _holidays(country: str, region: str, year: int) -> holidays.HolidayBase:
    return holidays.country_holidays(country, subdiv=region or None, years=year)
