"""Days among the weeks ahead: far ones cost no more than near ones."""

from datetime import date, timedelta

import pytest

from jobs.planning.horizon import FAR, horizon
from jobs.planning.working_days import Calendar

MONDAY = date(2026, 3, 16)


class Counted(Calendar):
    """A calendar that counts how often it is asked."""

    asked = 0

    def is_open(self, day: date) -> bool:
        """As any calendar answers."""
        Counted.asked += 1
        return super().is_open(day)


@pytest.mark.parametrize("day", [date(1900, 1, 1), date(9000, 1, 1)])
def test_a_day_beyond_all_weeks_is_found_in_as_many_steps_as_a_near_one(day) -> None:
    weeks = horizon(Counted(), MONDAY, 6)
    Counted.asked = 0
    assert abs(weeks.from_day(day)) > weeks.size
    assert Counted.asked <= FAR


def test_days_gone_by_are_counted_by_working_days() -> None:
    weeks = horizon(Calendar(), MONDAY, 6)
    assert weeks.from_day(MONDAY) == 0
    assert weeks.from_day(MONDAY - timedelta(days=3)) == -weeks.parts  # the Friday before
    assert weeks.from_day(MONDAY - timedelta(days=1)) == 0
    assert weeks.from_day(MONDAY - timedelta(days=14)) == -10 * weeks.parts
