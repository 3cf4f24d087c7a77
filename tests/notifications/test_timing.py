"""Quiet hours and the one message a day, by a person's own clock and through both changes."""

from datetime import UTC, datetime, time, timedelta
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notifications.timing import Day, When, when
from tests.lengths import examples

EDMONTON = ZoneInfo("America/Edmonton")
NIGHT = Day(EDMONTON, time(21), time(6, 30))
ZONES = ["America/Edmonton", "America/St_Johns", "America/Halifax", "Europe/Dublin"]


def at(text: str, zone: ZoneInfo = EDMONTON) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=zone)


@pytest.mark.parametrize(
    ("moment", "told"),
    [
        ("2026-03-02T20:59", "2026-03-02T20:59"),
        ("2026-03-02T21:00", "2026-03-03T06:30"),
        ("2026-03-03T03:00", "2026-03-03T06:30"),
        ("2026-03-03T06:30", "2026-03-03T06:30"),
        ("2026-03-07T23:00", "2026-03-08T06:30"),  # that night is an hour shorter
        ("2026-10-31T23:00", "2026-11-01T06:30"),  # that night is an hour longer
    ],
)
def test_what_is_due_in_quiet_hours_waits_for_their_end(moment, told) -> None:
    assert when(NIGHT, at(moment), urgent=False, at_once=False) == When(at(told), False)


def test_what_is_urgent_does_not_wait() -> None:
    moment = at("2026-03-03T03:00")
    assert when(NIGHT, moment, urgent=True, at_once=False) == When(moment, False)


def test_the_one_message_a_day_is_the_next_one() -> None:
    day = Day(EDMONTON, digest_at=time(7))
    assert when(day, at("2026-03-02T06:59"), urgent=False, at_once=False).at == at(
        "2026-03-02T07:00"
    )
    late = when(day, at("2026-03-02T07:00"), urgent=False, at_once=False)
    assert late == When(at("2026-03-03T07:00"), True)
    assert not when(day, at("2026-03-02T07:00"), urgent=False, at_once=True).digest


def test_a_digest_at_an_hour_that_is_skipped_is_sent_after_it() -> None:
    day = Day(EDMONTON, digest_at=time(2, 30))
    assert day.next_digest(at("2026-03-08T01:00")) == at("2026-03-08T03:30")


def test_quiet_hours_that_end_in_the_hour_that_comes_twice_end_at_last() -> None:
    day = Day(EDMONTON, time(21), time(1, 30))
    first, second = at("2026-11-01T01:10"), at("2026-11-01T01:10").replace(fold=1)
    assert day.after_quiet(first).astimezone(UTC) == datetime(2026, 11, 1, 7, 30, tzinfo=UTC)
    assert day.after_quiet(second).astimezone(UTC) == datetime(2026, 11, 1, 8, 30, tzinfo=UTC)


HOURS = st.times().map(lambda t: t.replace(second=0, microsecond=0, tzinfo=None))


@given(
    st.datetimes(datetime(2026, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)),
    st.sampled_from(ZONES),
    st.none() | st.tuples(HOURS, HOURS).filter(lambda ends: ends[0] != ends[1]),
    st.none() | HOURS,
)
def test_nobody_is_told_in_quiet_hours_or_before_it_is_due(moment, zone, ends, digest) -> None:
    quiet_from, quiet_to = ends or (None, None)
    day = Day(ZoneInfo(zone), quiet_from, quiet_to, digest)
    found = when(day, moment, urgent=False, at_once=False)
    assert found.at >= moment
    assert not day.quiet(found.at)
    assert found.at - moment <= timedelta(hours=51)
    assert found.digest == (digest is not None)


@cache
def changes() -> list[tuple[str, datetime]]:
    """Every zone with each moment at which its clocks change, of two years; and a day left out."""
    found = [("Pacific/Apia", datetime(2011, 12, 30, 10, tzinfo=UTC))]
    days = [datetime(2026, 1, 1, tzinfo=UTC) + n * timedelta(days=1) for n in range(731)]
    for name in sorted(available_timezones()):
        zone = ZoneInfo(name)
        offsets = [day.astimezone(zone).utcoffset() for day in days]
        for day, one, other in zip(days, offsets, offsets[1:], strict=False):
            if one != other:
                within = (day + n * timedelta(minutes=15) for n in range(97))
                found += [(name, next(m for m in within if m.astimezone(zone).utcoffset() != one))]
    return found


def minutes(day: Day, start: datetime, end: datetime) -> list[datetime]:
    """The moments from one to another, a minute apart, at which somebody may be told."""
    count = int((end - start) / timedelta(minutes=1)) + 1
    moments = (start + n * timedelta(minutes=1) for n in range(count))
    return [moment for moment in moments if moment < end and not day.quiet(moment)]


@examples(150, 6000)
@given(st.data(), HOURS, HOURS, HOURS, st.integers(-26 * 60, 3 * 60))
def test_whatever_clocks_do_quiet_hours_end_when_they_end(data, first, last, digest, off) -> None:
    name, change = data.draw(st.sampled_from(changes()))
    day = Day(ZoneInfo(name), first, last, digest)
    moment = change + timedelta(minutes=off)
    told = day.after_quiet(moment)
    assert told >= moment
    assert not day.quiet(told)
    assert minutes(day, moment, told) == []  # nobody could have been told before
    slot = day.next_digest(moment)
    assert moment < slot <= moment + timedelta(hours=51)
    assert not day.quiet(slot)


def test_in_every_zone_quiet_hours_over_a_change_of_clocks_end_at_their_first_free_minute() -> None:
    """Each change of each zone, none drawn by lot: ends before, in and after the hour it moves."""
    late, cases = [], 0
    for name, change in changes():
        zone = ZoneInfo(name)
        after = change.astimezone(zone).replace(tzinfo=None)
        for shift in (-30, 0, 30):
            last = (after + timedelta(minutes=shift)).time().replace(second=0, microsecond=0)
            first = (after - timedelta(hours=5)).time().replace(second=0, microsecond=0)
            day = Day(zone, first, last)
            start = (change - timedelta(hours=2)).replace(second=0, microsecond=0)
            if not day.quiet(start):
                continue
            cases += 1
            told = day.after_quiet(start)
            if day.quiet(told) or minutes(day, start, told):
                late.append((name, change, last, told))
    assert late == []
    assert cases > 500, "every zone that changes its clocks, twice a year, for two years"


def test_quiet_hours_that_end_in_an_hour_that_is_skipped_end_when_clocks_go_forward() -> None:
    day = Day(EDMONTON, time(21), time(2, 30))
    told = day.after_quiet(at("2026-03-08T01:00"))
    assert told.astimezone(UTC) == datetime(2026, 3, 8, 9, tzinfo=UTC)  # 3:00 there
