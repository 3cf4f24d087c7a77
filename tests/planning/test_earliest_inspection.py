"""The earliest inspection: by hand, and against a walk over the calendar written apart."""

import random
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import holidays
import pytest

from config.messages.saying import said
from jobs.planning.inspections import Earliest, InspectionRules, earliest_inspection
from jobs.planning.working_days import Calendar, NeverOpen

ALBERTA = Calendar(country="CA", region="AB")
EDMONTON = ZoneInfo("America/Edmonton")


def at(text: str, zone: ZoneInfo = EDMONTON) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=zone)


def rules(**change) -> InspectionRules:
    return InspectionRules(EDMONTON, ALBERTA, **change)


@pytest.mark.parametrize(
    ("change", "asked", "starts"),
    [
        # Thursday after the cut-off counts from Friday; Monday 18 May 2026 is Victoria Day.
        ({"cut_off": time(14)}, "2026-05-14 15:10", "2026-05-19 08:00"),
        ({"cut_off": time(14)}, "2026-05-14 14:00", "2026-05-15 08:00"),
        # Same day when asked by 08:00.
        ({"cut_off": time(8), "notice_days": 0}, "2026-05-14 07:59", "2026-05-14 08:00"),
        ({"cut_off": time(8), "notice_days": 0}, "2026-05-14 08:01", "2026-05-15 08:00"),
        # No notice asked: at once within hours, else the next working morning.
        ({"notice_days": 0}, "2026-05-14 10:20", "2026-05-14 10:20"),
        ({"notice_days": 0}, "2026-05-14 16:00", "2026-05-15 08:00"),
        # Two working days, inspections on Mondays and Wednesdays alone.
        (
            {"notice_days": 2, "inspections_on": frozenset({0, 2})},
            "2026-06-04 10:00",
            "2026-06-08 08:00",
        ),
        (
            {"notice_days": 2, "inspections_on": frozenset({0, 2})},
            "2026-06-08 10:00",
            "2026-06-10 08:00",
        ),
        # Seventy-two hours on working days, over a weekend.
        ({"notice_days": 0, "notice_hours": 72}, "2026-06-11 10:30", "2026-06-16 10:30"),
        # Asked on a Saturday: the hours run from Monday's midnight.
        ({"notice_days": 0, "notice_hours": 24}, "2026-06-13 12:00", "2026-06-16 08:00"),
        # Hours that end in the evening leave the next morning.
        ({"notice_days": 0, "notice_hours": 24}, "2026-06-09 17:00", "2026-06-11 08:00"),
    ],
)
def test_by_hand(change, asked: str, starts: str) -> None:
    assert earliest_inspection(rules(**change), at(asked)).starts == at(starts)


def working(found: Earliest) -> list[str]:
    """Its steps in English, with the space before AM and PM as one that is typed."""
    return [said(step).replace("\u202f", " ") for step in found.working]


def test_the_working_tells_every_step() -> None:
    found = earliest_inspection(rules(cut_off=time(14)), at("2026-05-14 15:10"))
    assert working(found) == [
        "Requested May 14, 2026, 3:10 PM.",
        "That is after the 2:00 PM cut-off, so the request counts from Fri, May 15.",
        "Mon, May 18 does not count (Victoria Day).",
        "Notice of 1 working day: Tue, May 19.",
        "First window: May 19, 2026, 8:00 AM to 4:00 PM.",
    ]


def test_a_closure_of_the_offices_own_is_passed_over_by_name() -> None:
    closed = Calendar(closures={date(2026, 6, 10): "staff day"})
    found = earliest_inspection(InspectionRules(EDMONTON, closed), at("2026-06-09 10:00"))
    assert found.starts.date() == date(2026, 6, 11)
    assert "Wed, Jun 10 does not count (staff day)." in working(found)


def test_the_hour_is_the_one_at_the_house_on_both_sides_of_a_clock_change() -> None:
    before = earliest_inspection(rules(), at("2026-03-05 10:00"))
    after = earliest_inspection(rules(), at("2026-03-06 10:00"))
    assert (before.starts.hour, after.starts.hour) == (8, 8)
    assert before.starts.utcoffset() == timedelta(hours=-7)
    assert after.starts.utcoffset() == timedelta(hours=-6)
    assert after.starts == at("2026-03-09 08:00")


def test_the_day_is_the_one_at_the_house_wherever_the_asker_is() -> None:
    just_after_midnight_in_utc = datetime(2026, 6, 10, 1, 0, tzinfo=UTC)
    found = earliest_inspection(rules(), just_after_midnight_in_utc)
    assert found.starts.date() == date(2026, 6, 10)


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="must have a time zone"):
        earliest_inspection(rules(), datetime(2026, 6, 10, 10, 0))


@pytest.mark.parametrize(
    "change",
    [
        {"inspections_on": frozenset({5})},
        {"calendar": Calendar(weekdays=frozenset())},
    ],
)
def test_an_office_that_never_comes_is_said_to_be_so(change) -> None:
    with pytest.raises(NeverOpen):
        earliest_inspection(InspectionRules(EDMONTON, **change), at("2026-06-10 10:00"))


def walk(given: InspectionRules, asked: datetime) -> datetime:
    """The same answer by walking the calendar hour by hour, with nothing taken over."""
    region = given.calendar.region
    free = {
        year: holidays.country_holidays(given.calendar.country, subdiv=region, years=year)
        for year in range(asked.year - 1, asked.year + 2)
    }

    def works(day: date) -> bool:
        closed = day in free[day.year] or day in given.calendar.closures
        return day.weekday() in given.calendar.weekdays and not closed

    hour = asked.astimezone(given.zone).replace(tzinfo=None)
    on_time = given.cut_off is None or hour.time() <= given.cut_off
    if not (works(hour.date()) and on_time):
        hour = datetime.combine(hour.date(), time()) + timedelta(days=1)
        while not works(hour.date()):
            hour += timedelta(hours=1)
    start, days, hours = hour, 0, timedelta()
    while True:
        day = hour.date()
        enough = days >= given.notice_days and hours >= timedelta(hours=given.notice_hours)
        open_now = given.from_hour <= hour.time() < given.to_hour
        if enough and open_now and works(day) and day.weekday() in given.inspections_on:
            return hour
        step = timedelta(hours=1)
        midnight = datetime.combine(day, time()) + timedelta(days=1)
        marks = [datetime.combine(day, given.from_hour), midnight]
        if works(day):
            marks.append(hour + timedelta(hours=given.notice_hours) - hours)
        later = min([hour + step, *(mark for mark in marks if mark > hour)])
        hours += (later - hour) if works(day) else timedelta()
        if later.date() != day and works(later.date()) and later.date() > start.date():
            days += 1
        hour = later


def test_five_thousand_random_requests_against_the_walk() -> None:
    dice = random.Random(20260316)
    zones = [ZoneInfo(name) for name in ("America/Edmonton", "America/Halifax", "America/Denver")]
    places = [("CA", "AB"), ("CA", "NS"), ("US", "WA"), ("CA", "BC")]
    wrong = []
    for _ in range(5_000):
        country, region = dice.choice(places)
        first = date(2026, 1, 1)
        closures = {first + timedelta(days=dice.randrange(365)): "own" for _ in range(6)}
        open_days = frozenset(dice.sample(range(6), dice.randint(3, 6)))
        inspections_on = frozenset(dice.sample(sorted(open_days), dice.randint(1, len(open_days))))
        given = InspectionRules(
            dice.choice(zones),
            Calendar(open_days, country, region, closures),
            notice_days=dice.randint(0, 5),
            notice_hours=dice.choice([0, 0, 24, 48, 72, dice.randint(1, 100)]),
            cut_off=dice.choice([None, time(8), time(13), time(15, 30)]),
            inspections_on=inspections_on,
            from_hour=time(dice.randint(7, 10)),
            to_hour=time(dice.randint(14, 17)),
        )
        asked = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=dice.randrange(400 * 1440))
        found = earliest_inspection(given, asked).starts
        if found.replace(tzinfo=None) != walk(given, asked):
            wrong.append((given, asked, found, walk(given, asked)))
    assert wrong == []
