"""Days and moments from callers: bounded by kind, refused by the name of the field."""

import json
from datetime import timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.models import AreaStanding, InspectionKind, Item, MilestoneReached, Observation
from inspections.services.inspections import inspection_ask
from inspections.services.settling import job_settle
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
JSON = "application/json"
YEAR_ONE, LAST_DAY = "0001-01-01", "9999-12-31"
NEVER = ("0001-01-01T00:00:00Z", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00")


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def item(job):
    return job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN).first()


@pytest.fixture
def office(shop):
    made = Client(raise_request_exception=False)
    made.force_login(shop.office)
    return made


def refused(answer, *fields: str) -> str:
    """What is said, once the answer is a refusal of these fields and of no other."""
    assert answer.status_code in (400, 422), answer.content
    told = answer.json()["errors"]
    pointers = {each["pointer"].rsplit("/", 1)[-1] for each in told}
    assert pointers == set(fields)
    said = " ".join(each["detail"] for each in told)
    assert "Enter a" in said, said
    return said


@pytest.mark.parametrize("seen_at", ["2099-06-01T08:00:00Z", "1999-12-31T00:00:00Z", *NEVER])
def test_a_look_of_a_time_that_cannot_be_is_refused(shop, office, item, seen_at) -> None:
    given = {"outcome": "ok", "seen_at": seen_at}
    refused(office.post(f"/api/items/{item.id}/observations", given, JSON), "seen_at")
    assert not shop.own(Observation).exists()


def test_a_look_before_the_job_was_opened_is_refused_by_the_clock_at_the_house(
    office, item
) -> None:
    long_ago = (timezone.now() - timedelta(days=3)).isoformat()
    given = {"outcome": "ok", "seen_at": long_ago}
    said = refused(office.post(f"/api/items/{item.id}/observations", given, JSON), "seen_at")
    assert "(America/Edmonton)" in said


def test_a_pass_of_2099_hides_no_fail(office, shop, item) -> None:
    url, area = f"/api/items/{item.id}/observations", item.area
    shop.release(area)
    office.post(url, {"outcome": "ok", "seen_at": "2099-06-01T08:00:00Z"}, JSON)
    assert office.post(url, {"outcome": "fix"}, JSON).status_code == 201
    assert not AreaStanding.objects.get(area=area).released


def test_a_permit_of_a_day_to_come_is_refused(office, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"], issued=False)
    url = f"/api/jobs/{job.id}/permit"
    given = {"what": "issued", "number": "P-1", "issued_on": "2030-01-01"}
    refused(office.post(url, given, JSON), "issued_on")
    given |= {"issued_on": YEAR_ONE, "expires_on": LAST_DAY}
    refused(office.post(url, given, JSON), "issued_on", "expires_on")
    refused(office.post(url, {"what": "closed", "closed_on": "2030-01-01"}, JSON), "closed_on")
    page = office.post(
        f"/jobs/{job.id}/permit/", {"number": "P-1", "issued_on": "2030-01-01"}, follow=True
    )
    assert "Jan 1, 2030 is out of range. Enter a day from Jan 1, 2000 to" in page.text
    job.permit.refresh_from_db()
    assert job.permit.issued_on is None


def test_a_permit_that_expires_at_the_end_of_all_days_is_refused(office, job) -> None:
    url = f"/api/jobs/{job.id}/permit"
    for day in (YEAR_ONE, LAST_DAY):
        refused(office.post(url, {"what": "extended", "expires_on": day}, JSON), "expires_on")
    job_settle(job.id)


@pytest.mark.parametrize("when", ["0001-01-01", "9999-12-31", "2099-01-01"])
def test_an_inspection_of_a_time_that_cannot_be_is_refused(office, shop, job, when) -> None:
    areas = [job.areas.first()]
    inspection = inspection_ask(
        shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=areas, insist=True
    )
    given = {"happening": "booked", "starts_at": f"{when}T09:00:00Z", "ends_at": f"{when}T11:00Z"}
    refused(
        office.post(f"/api/inspections/{inspection.id}/events", given, JSON), "starts_at", "ends_at"
    )
    form = {"happening": "booked", "day": when, "starts": "09:00", "ends": "11:00"}
    page = office.post(f"/inspections/{inspection.id}/happening/", form, follow=True)
    assert "out of range. Enter a" in page.text
    assert not inspection.events.exists()


def test_a_window_that_ends_before_it_starts_or_in_another_year_is_refused(
    office, shop, job
) -> None:
    areas = [job.areas.first()]
    inspection = inspection_ask(
        shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=areas, insist=True
    )
    starts = timezone.now()
    for ends in (starts - timedelta(hours=1), starts + timedelta(days=40)):
        given = {"happening": "booked", "starts_at": starts.isoformat()}
        given["ends_at"] = ends.isoformat()
        answer = office.post(f"/api/inspections/{inspection.id}/events", given, JSON)
        assert answer.status_code == 422
        assert [each["pointer"] for each in answer.json()["errors"]] == ["#/ends_at"]


def test_what_was_reached_lies_behind(shop, office, job) -> None:
    url = f"/api/jobs/{job.id}/milestones"
    given = {"milestone": "hookup", "reference": "H-1", "reached_on": "2030-01-01"}
    refused(office.post(url, given, JSON), "reached_on")
    given |= {"reached_on": "2026-03-02", "temporary_until": LAST_DAY}
    refused(office.post(url, given, JSON), "temporary_until")
    assert not shop.own(MilestoneReached).exists()


def test_the_drywall_date_lies_within_twenty_years(office, job) -> None:
    for day in (YEAR_ONE, LAST_DAY):
        answer = office.patch(f"/api/jobs/{job.id}", {"drywall_on": day}, JSON)
        refused(answer, "drywall_on")


def test_absences_and_plans_lie_within_the_calendar(office, shop) -> None:
    given = {"person": shop.member.username, "from_day": YEAR_ONE, "to_day": LAST_DAY}
    refused(office.post("/api/absences", given, JSON), "from_day", "to_day")
    refused(office.post("/api/plans", {"first_day": LAST_DAY}, JSON), "first_day")
    form = {"person": str(shop.member.id), "from_day": YEAR_ONE, "to_day": LAST_DAY}
    page = office.post("/crews/absence/", form, follow=True).text
    assert "Jan 1, 1 is out of range. Enter a day from Jan 1, 2000 to" in page
    assert "out of range" in office.post("/plan/ask/", {"first_day": LAST_DAY}, follow=True).text


@pytest.mark.parametrize("day", [YEAR_ONE, LAST_DAY])
def test_the_day_of_a_list_is_a_day_of_the_calendar(office, shop, day) -> None:
    from tests.days.crewed import crewed

    crew, _ = crewed(shop)
    refused(office.get(f"/api/crews/{crew.id}/day?day={day}"), "day")
    assert office.get(f"/crews/{crew.id}/day/?day={day}").status_code == 200


def test_a_list_is_narrowed_by_a_moment_that_can_be(office, job) -> None:
    for moment in NEVER:
        answer = office.get(f"/api/jobs/{job.id}/record", {"since": moment})
        assert answer.status_code == 400, moment
    assert office.get("/api/jobs", {"drywall_from": YEAR_ONE}).status_code == 400


def ticked(item, **given) -> dict[str, object]:
    now = timezone.now().isoformat()
    start = {"id": str(uuid4()), "item": str(item.id), "outcome": "ok", "note": ""}
    start |= {"fingerprint": item.fingerprint, "made_at": now, "known_at": now}
    return start | given


@pytest.mark.parametrize("moment", NEVER)
def test_a_walk_by_a_clock_that_cannot_be_is_refused_and_no_fault(shop, office, job, item, moment):
    now = timezone.now().isoformat()
    for sent, at in (
        ({"phone_now": moment, "ticks": [ticked(item)]}, "phone_now"),
        ({"phone_now": now, "ticks": [ticked(item, made_at=moment)]}, "made_at"),
        ({"phone_now": now, "ticks": [ticked(item, known_at=moment)]}, "known_at"),
    ):
        refused(office.post(f"/api/jobs/{job.id}/observations", sent, JSON), at)
        answer = office.post(f"/walk/{job.id}/sync", json.dumps(sent), JSON)
        assert answer.status_code == 400
        assert [each["at"].rsplit("/", 1)[-1] for each in answer.json()["faults"]] == [at]
    assert not shop.own(Observation).exists()


@pytest.mark.parametrize("clock", ["1970-01-01T00:00:00Z", "2037-05-05T05:05:00Z"])
def test_a_phone_that_lost_its_time_is_set_right(shop, office, job, item, clock) -> None:
    before = timezone.now()
    sent = {"phone_now": clock, "ticks": [ticked(item, made_at=clock)]}
    told = office.post(f"/api/jobs/{job.id}/observations", sent, JSON)
    assert told.json()["results"][0]["state"] == "kept"
    assert before - timedelta(seconds=1) <= shop.own(Observation).get().seen_at <= timezone.now()


def test_a_site_change_by_a_clock_that_cannot_be_is_refused(office, job) -> None:
    place = json.loads(job.revisions.last().house)["boxes"][0]["id"]
    for moment in NEVER:
        given = {"id": str(uuid4()), "box": place, "at_mm": 100, "made_at": moment}
        refused(office.post(f"/api/jobs/{job.id}/site-changes", given, JSON), "made_at")
        answer = office.post(f"/walk/{job.id}/site-change", json.dumps(given), JSON)
        assert answer.status_code == 400
