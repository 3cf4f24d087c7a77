"""Until when what was drawn of a job is good by the clock, and what is kept of its areas."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import say
from config.messages.stored import from_json
from inspections.models import AreaStanding, Happening, InspectionKind, JobStanding, Outcome
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.observations import item_observe
from inspections.services.permits import permit_close, permit_correct
from jobs.models import Permit
from tests.inspections.tiny import HOUSES, tiny
from tests.sure import the_first

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 3, 2, 19, tzinfo=UTC)
HOUR = timedelta(hours=1)
MIDNIGHT = datetime(2026, 4, 11, 6, tzinfo=UTC)
"""In Edmonton, of the day after a permit is good for the last time."""


@pytest.fixture(autouse=True)
def at_noon(monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock stands."""
    monkeypatch.setattr(timezone, "now", lambda: NOON)


@pytest.fixture
def job(shop, stranger_shop):
    stranger_shop.roughed_in(HOUSES["clean"])
    return shop.roughed_in(HOUSES["clean"])


def turns(job) -> datetime | None:
    return JobStanding.objects.get(job=job).next_at


def booked(shop, job, starts: datetime | None, ends: datetime | None):
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.SERVICE)
    return inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=starts,
        ends_at=ends,
    )


def expires(shop, job, day: date | None) -> None:
    permit = shop.own(Permit).get(job=job)
    permit_correct(shop.office, permit=permit, expires_on=day, because="the letter says so")


def test_a_booked_inspection_turns_what_is_said_of_a_job_at_its_start_and_its_end(
    shop, job
) -> None:
    assert turns(job) is None
    booked(shop, job, NOON + 2 * HOUR, NOON + 4 * HOUR)
    assert turns(job) == NOON + 2 * HOUR


@pytest.mark.parametrize("begun", [-2 * HOUR, 0 * HOUR])
def test_of_one_that_has_begun_only_its_end_is_ahead(shop, job, begun) -> None:
    booked(shop, job, NOON + begun, NOON + 3 * HOUR)
    assert turns(job) == NOON + 3 * HOUR


def test_a_window_needs_both_its_start_and_its_end(shop, job) -> None:
    for starts, ends in ((NOON + HOUR, None), (None, NOON + HOUR), (None, None)):
        with pytest.raises(ValidationError, match="hours of the inspection window"):
            booked(shop, job, starts, ends)
    event = booked(shop, job, NOON + HOUR, NOON + 2 * HOUR)
    assert (event.starts_at, event.ends_at) == (NOON + HOUR, NOON + 2 * HOUR)


@pytest.mark.parametrize(("starts", "ends"), [(NOON, None), (None, NOON), (NOON, NOON + HOUR)])
def test_what_has_no_window_is_given_none(shop, job, starts, ends) -> None:
    inspection = booked(shop, job, NOON - 2 * HOUR, NOON - HOUR).inspection
    with pytest.raises(ValidationError):
        inspection_happen(
            shop.office,
            inspection=inspection,
            happening=Happening.NO_ACCESS,
            starts_at=starts,
            ends_at=ends,
        )
    assert inspection.events.count() == 1


def test_a_permit_turns_a_job_the_day_after_its_last(shop, job) -> None:
    expires(shop, job, date(2026, 4, 10))
    assert turns(job) == MIDNIGHT
    expires(shop, job, date(2026, 3, 1))  # it has run out
    assert turns(job) is None
    expires(shop, job, date(2026, 4, 10))
    permit_close(shop.office, permit=shop.own(Permit).get(job=job), closed_on=date(2026, 3, 2))
    assert turns(job) == MIDNIGHT


@pytest.mark.parametrize(
    ("kept", "then"),
    [
        (None, MIDNIGHT),
        (NOON + HOUR, NOON + HOUR),
        (MIDNIGHT + HOUR, MIDNIGHT),
    ],
)
def test_a_look_at_one_area_brings_the_next_turn_no_later(shop, job, kept, then) -> None:
    expires(shop, job, date(2026, 4, 10))
    drawn = NOON - HOUR
    JobStanding.objects.filter(job=job).update(next_at=kept, drawn_at=drawn)
    item = the_first(job.items.filter(current=True).select_related("job__shop"))
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    standing = JobStanding.objects.get(job=job)
    assert (standing.next_at, standing.drawn_at) == (then, drawn)


def test_a_look_at_one_area_leaves_the_turn_of_another_thing(shop, job) -> None:
    JobStanding.objects.filter(job=job).update(next_at=NOON + HOUR, drawn_at=NOON - HOUR)
    item = the_first(job.items.filter(current=True).select_related("job__shop"))
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    assert turns(job) == NOON + HOUR


def test_a_fact_of_the_whole_job_draws_all_of_it_anew(shop, job) -> None:
    JobStanding.objects.filter(job=job).update(next_at=NOON + HOUR, drawn_at=NOON - HOUR)
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    standing = JobStanding.objects.get(job=job)
    assert (standing.next_at, standing.drawn_at) == (None, NOON)


def test_what_is_kept_of_an_area_says_whether_it_is_released_and_what_holds_it(shop, job) -> None:
    east, west = job.areas.select_related("job__shop", "job__authority").order_by("code")
    shop.release(east)
    of_east, of_west = (AreaStanding.objects.get(area=each) for each in (east, west))
    assert (of_east.released, of_east.hold_count, of_east.holds) == (True, 0, [])
    assert (of_west.released, of_west.hold_count) == (False, len(of_west.holds))
    assert of_west.hold_count > 1
    house_record(shop.lead, job=job, house=tiny(braces=0))
    of_east = AreaStanding.objects.get(area=east)
    assert (of_east.released, of_east.hold_count) == (False, len(of_east.holds))
    release = east.cover_releases.get()
    assert not release.live
    assert release.withdrawn_at == NOON
    assert "1 rough-in item to fix." in release.withdrawn_because


def test_a_long_reason_of_a_withdrawal_is_kept_as_far_as_its_column_takes_it(shop, job) -> None:
    east = job.areas.select_related("job__shop", "job__authority").get(code="east")
    release = shop.release(east)
    shop.shop.trades = [f"trade {at} of a very long name indeed" for at in range(20)]
    shop.shop.save()
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    release.refresh_from_db()
    assert not release.live
    assert len(release.withdrawn_because) == 500
    assert say(from_json(release.withdrawn_holds), "en").startswith(release.withdrawn_because)


def test_a_permit_may_be_closed_on_the_day_it_was_issued_and_not_before(shop, job) -> None:
    permit = shop.own(Permit).get(job=job)
    with pytest.raises(ValidationError):
        permit_close(shop.office, permit=permit, closed_on=date(2026, 1, 11))
    assert permit_close(shop.office, permit=permit, closed_on=date(2026, 1, 12)).closed_on
