"""Moments and days: which may lie ahead, how far, and what is said of the rest."""

import ast
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from django.core.exceptions import ValidationError
from django.db.models import DateField, DateTimeField
from hypothesis import given
from hypothesis import strategies as st

from config.messages.saying import said
from jobs.bounds import EARLIEST, LATEST, within_bounds
from jobs.bounds_refused import refuse_outside, refuse_window, seen_by_now
from jobs.models import Job, moment_of_id, new_id
from jobs.models.fields import DayField, MomentField
from jobs.moment_messages import FIELDS
from jobs.moments import ANY_DAY, BOOKABLE, PAST_DAY, PHONE_CLOCK, NotADay, at_place, day_given
from tests.sure import sure

NOW = datetime(2026, 11, 29, 5, 30, tzinfo=UTC)
EDMONTON = "America/Edmonton"  # where it is the 28th still
ROOT = Path(__file__).parents[2]
KINDS = {"ANY_DAY", "BOOKABLE", "PAST_DAY", "PHONE_CLOCK"}
MINUTE, DAY = timedelta(minutes=1), timedelta(days=1)
AWARE = st.datetimes(timezones=st.sampled_from([UTC, ZoneInfo("Pacific/Apia")]))


def faults(**fields) -> dict[str, list[str]]:
    with pytest.raises(ValidationError) as refused:
        refuse_outside(NOW, EDMONTON, **fields)
    return refused.value.message_dict


def test_what_happened_is_no_later_than_today_at_the_house() -> None:
    refuse_outside(NOW, EDMONTON, issued_on=(PAST_DAY, date(2026, 11, 28)))
    for day in (date(2026, 11, 29), date(2030, 1, 1), date(1999, 12, 31), date(1, 1, 1)):
        words = f"issued on: {day:%b} {day.day}, {day.year} is out of range. "
        words += "Enter a day from Jan 1, 2000 to Nov 28, 2026."
        assert faults(issued_on=(PAST_DAY, day)) == {"issued_on": [words]}


def test_what_may_lie_ahead_lies_within_twenty_years() -> None:
    refuse_outside(NOW, EDMONTON, expires_on=(ANY_DAY, date(2046, 11, 28)), due_on=(ANY_DAY, None))
    assert "to Nov 28, 2046." in faults(expires_on=(ANY_DAY, date(9999, 12, 31)))["expires_on"][0]
    leap = datetime(2028, 2, 29, 12, tzinfo=UTC)
    assert ANY_DAY.range(leap, ZoneInfo("UTC"))[1] == date(2048, 2, 29)
    assert ANY_DAY.range(leap.replace(year=2096), ZoneInfo("UTC"))[1] == date(2116, 2, 29)
    assert ANY_DAY.range(leap.replace(year=2080), ZoneInfo("UTC"))[1] == date(2100, 2, 28)


def test_every_fault_is_told_at_once_by_its_field() -> None:
    days = {"issued_on": (PAST_DAY, date(2030, 1, 1)), "expires_on": (ANY_DAY, date(1, 1, 1))}
    assert sorted(faults(**days)) == ["expires_on", "issued_on"]


def test_a_moment_is_told_by_the_clock_at_the_house() -> None:
    (words,) = faults(starts_at=(BOOKABLE, NOW + 801 * DAY))["starts_at"]
    assert words == (
        "starts at: Feb 6, 2029, 10:30\u202fPM is out of range. Enter a time from "
        "Oct 24, 2025, 11:30\u202fPM to Feb 5, 2029, 10:30\u202fPM (America/Edmonton)."
    )
    for moment in (datetime(1, 1, 1, tzinfo=UTC), datetime.max.replace(tzinfo=UTC)):
        assert "out of range" in faults(starts_at=(BOOKABLE, moment))["starts_at"][0]


def test_a_clock_a_little_ahead_counts_as_now() -> None:
    opened = NOW - 30 * DAY
    assert seen_by_now(NOW + MINUTE, NOW, EDMONTON, opened) == NOW
    assert seen_by_now(NOW - MINUTE, NOW, EDMONTON, opened) == NOW - MINUTE
    for moment in (NOW + 3 * MINUTE, opened - DAY - MINUTE, datetime(1, 1, 1, tzinfo=UTC)):
        with pytest.raises(ValidationError, match=r"seen at: .* is out of range"):
            seen_by_now(moment, NOW, EDMONTON, opened)


def test_a_window_ends_after_it_starts_and_within_a_month() -> None:
    refuse_window(NOW, NOW + 31 * DAY)
    later, earlier = "must end after it starts. Enter a later end", "longer than 31 days. Enter an"
    for ends, words in ((NOW, later), (NOW - MINUTE, later), (NOW + 31 * DAY + MINUTE, earlier)):
        with pytest.raises(ValidationError, match=words) as refused:
            refuse_window(NOW, ends)
        assert list(refused.value.message_dict) == ["ends_at"]


def test_a_phones_clock_may_be_wrong_by_years_and_no_more() -> None:
    assert not PHONE_CLOCK.fault(datetime(1970, 1, 1, tzinfo=UTC), NOW)
    assert PHONE_CLOCK.fault(datetime(9999, 1, 1, tzinfo=UTC), NOW)
    assert PHONE_CLOCK.fault(datetime(1, 1, 1, tzinfo=UTC), NOW)


def test_a_text_that_is_no_day_is_told_from_one_out_of_range() -> None:
    assert day_given("2026-03-16", ANY_DAY, NOW) == date(2026, 3, 16)
    with pytest.raises(NotADay, match="is not a date"):
        day_given("monday", ANY_DAY, NOW)
    with pytest.raises(ValueError, match="out of range"):
        day_given("9999-12-31", ANY_DAY, NOW)


@given(AWARE)
def test_whatever_is_on_record_can_be_reckoned_with(moment: datetime) -> None:
    read = within_bounds(moment)
    assert EARLIEST <= read <= LATEST
    assert read == moment or not EARLIEST <= moment <= LATEST
    assert within_bounds(moment.date()) - 99 * 366 * DAY
    for zone in ("Pacific/Kiritimati", "Pacific/Pago_Pago", "Africa/Monrovia"):
        assert (read - 99 * 366 * DAY).astimezone(ZoneInfo(zone))
        assert (read + 99 * 366 * DAY).astimezone(ZoneInfo(zone))
        assert at_place(moment, ZoneInfo(zone))


@given(AWARE, AWARE)
def test_reading_within_bounds_keeps_the_order(one: datetime, other: datetime) -> None:
    assert (one <= other) <= (within_bounds(one) <= within_bounds(other))


def test_an_id_tells_when_it_was_made() -> None:
    """By the example of RFC 9562, appendix A.6; ours are of that version."""
    example = UUID("017f22e2-79b0-7cc3-98c4-dc0c0c07398f")
    assert moment_of_id(example) == datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC)
    assert new_id().version == 7


@pytest.mark.django_db
def test_a_row_is_read_within_bounds_and_left_as_it_is(shop) -> None:
    job = shop.job()
    for kept, read in ((date(1, 1, 1), date(1900, 1, 1)), (date.max, date(9000, 1, 1))):
        Job.objects.filter(id=job.id).update(drywall_on=kept)
        job.refresh_from_db()
        assert job.drywall_on == read
        assert Job.objects.filter(drywall_on=kept).exists()


def test_every_moment_and_day_of_the_models_is_read_within_bounds() -> None:
    from django.apps import apps

    of_django = {"date_joined", "last_login"}  # what people's rows have of its own
    for name in ("jobs", "inspections", "notifications", "api"):
        for model in apps.get_app_config(name).get_models():
            for field in model._meta.get_fields():
                if isinstance(field, DateField | DateTimeField) and field.name not in of_django:
                    assert isinstance(field, DayField | MomentField), f"{model}.{field.name}"


@pytest.mark.parametrize("kind", [PAST_DAY, ANY_DAY])
@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", EDMONTON, "Pacific/Pago_Pago", "UTC"])
def test_the_last_day_that_is_named_is_one_that_the_house_takes(kind, zone: str) -> None:
    """Whichever check refuses first, the day that it names is not refused by the next."""
    unplaced = said(kind.fault(date(2999, 1, 1), NOW)).rpartition(" to ")[2]
    assert not re.search(r"\d{4}", unplaced)  # a date would be that of no house
    with pytest.raises(ValidationError) as refused:
        refuse_outside(NOW, zone, due_on=(kind, date(2999, 1, 1)))
    (words,) = refused.value.message_dict["due_on"]
    named = datetime.strptime(words.rstrip(".").rpartition(" to ")[2], "%b %d, %Y").date()
    refuse_outside(NOW, zone, due_on=(kind, named))
    assert not kind.fault(named, NOW)


def test_before_a_house_is_known_the_last_day_is_told_in_words() -> None:
    assert said(sure(PAST_DAY.fault(date(2030, 1, 1), NOW))) == (
        "Jan 1, 2030 is out of range. Enter a day from Jan 1, 2000 to today at the house."
    )
    assert said(sure(ANY_DAY.fault(date(9999, 1, 1), NOW))).endswith("to 20 years from today.")


def test_every_field_that_is_asked_of_has_a_name_for_people() -> None:
    """`refuse_outside` says which field is meant."""
    found = set()
    for name in ("jobs", "inspections"):
        for path in (ROOT / name).rglob("*.py"):
            found |= set(asked_fields(ast.parse(path.read_text("utf-8"))))
    assert len(found) > 15
    assert found <= FIELDS.keys()


def asked_fields(tree: ast.Module) -> Iterator[str]:
    """Names that are given with a kind: to the call itself, or in a table that it is given."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "refuse_outside":
            yield from (each.arg for each in node.keywords if each.arg)
        elif isinstance(node, ast.Dict):
            for key, value in zip(node.keys, node.values, strict=True):
                if isinstance(value, ast.Tuple) and value.elts:
                    value = value.elts[0]
                if isinstance(key, ast.Constant) and getattr(value, "id", "") in KINDS:
                    yield str(key.value)
