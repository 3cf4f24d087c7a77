"""The office's day: each line for its cause, gone with it, the most costly first."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from config.languages import say
from inspections.models import Answer, Happening, InspectionKind
from inspections.overview.office_day import Weight, office_calendar, office_lines, open_jobs
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.permits import permit_apply, permit_close, permit_issue
from inspections.standing.stages import Milestone
from jobs.models import Job
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 2, 9, tzinfo=ZoneInfo("America/Edmonton"))
TODAY = NOW.date()


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(NOW).put(monkeypatch)


@pytest.fixture
def job(clock, shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def east(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


def lines(clock) -> dict[Weight, str]:
    tested = Job.objects.filter(shop__name="Ostrander & Vale Electric")
    found = office_lines(open_jobs(tested, clock.now), clock.now)
    assert [line.weight for line in found] == sorted(line.weight for line in found)
    return {line.weight: say(line.what, "en") for line in found}


def drywall(job, day: date) -> None:
    job.drywall_on = day
    job.save()


def test_a_house_that_only_waits_for_its_crew_is_no_line(clock, job) -> None:
    assert lines(clock) == {}


@pytest.mark.parametrize(
    ("days", "weight"),
    [
        (-1, Weight.COVERED_ON_HOLD),
        (0, Weight.COVERED_ON_HOLD),
        (1, Weight.DATE_IN_DANGER),
        (7, Weight.DATE_IN_DANGER),
        (8, None),
    ],
)
def test_a_cover_date_near_a_held_area(clock, shop, job, days, weight) -> None:
    drywall(job, TODAY + timedelta(days=days))
    assert list(lines(clock)) == ([weight] if weight is not None else [])
    for area in job.areas.all():
        shop.release(area, reference=area.code)
    assert lines(clock) == {}


def test_ready_then_asked_then_missed_then_answered(clock, shop, job, east) -> None:
    shop.look_at(east)
    assert lines(clock) == {Weight.ASK: "Ready for inspection: East."}
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[east])
    assert lines(clock) == {}
    window = {"starts_at": clock.now, "ends_at": clock.now + timedelta(hours=2)}
    inspection_happen(shop.office, inspection=inspection, happening=Happening.BOOKED, **window)
    assert lines(clock) == {}
    clock.now += timedelta(hours=3)
    assert list(lines(clock)) == [Weight.ANSWER_MISSING]
    inspection_happen(shop.office, inspection=inspection, happening=Happening.NO_ACCESS)
    assert lines(clock) == {
        Weight.INSPECTION_LOST: "The inspector could not get in: rough-in inspection."
    }
    window = {"starts_at": clock.now, "ends_at": clock.now + timedelta(hours=2)}
    inspection_happen(shop.office, inspection=inspection, happening=Happening.MOVED, **window)
    inspection_answer(
        shop.office,
        inspection=inspection,
        answers={east: Answer.NOT_ACCEPTED},
        reference="R1",
        called=[Called(east, "no plate", due_on=TODAY)],
    )
    assert list(lines(clock)) == [Weight.REINSPECTION]
    clock.now += timedelta(days=2)
    assert list(lines(clock)) == [Weight.REINSPECTION, Weight.OVERDUE]


def test_accepted_and_nothing_holds(clock, shop, job, east) -> None:
    shop.look_at(east)
    shop.accept(east)
    assert lines(clock) == {Weight.RELEASE: "Accepted, nothing on hold: East."}
    cover_release_issue(shop.office, area=east)
    assert lines(clock) == {}


def test_permits_that_end_or_do_not_come(clock, shop) -> None:
    job = shop.job()
    permit = permit_apply(shop.office, job=job, applied_on=TODAY - timedelta(days=13))
    assert lines(clock) == {}
    clock.now += timedelta(days=1)
    assert list(lines(clock)) == [Weight.PERMIT_SLOW]
    ends = TODAY + timedelta(days=16)
    permit = permit_issue(shop.office, permit=permit, number="P1", issued_on=TODAY, expires_on=ends)
    assert lines(clock) == {}
    clock.now += timedelta(days=1)
    assert lines(clock) == {Weight.PERMIT_ENDING: "The permit is valid until Mar 18, 2026."}
    then, clock.now = clock.now, clock.now + timedelta(days=17)
    assert lines(clock) == {Weight.PERMIT_ENDING: "The permit expired on Mar 18, 2026."}
    clock.now = then
    permit_close(shop.office, permit=permit, closed_on=TODAY + timedelta(days=2))
    assert lines(clock) == {}


def test_a_temporary_service_that_is_to_go(clock, shop, job) -> None:
    until = TODAY + timedelta(days=8)
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reached_on=TODAY,
        reference="H1",
        temporary_until=until,
        circuits=["1"],
    )
    assert lines(clock) == {}
    clock.now += timedelta(days=1)
    assert list(lines(clock)) == [Weight.TEMPORARY]
    milestone_record(shop.office, job=job, milestone=Milestone.TEMPORARY_GONE, reached_on=TODAY)
    assert lines(clock) == {}


def test_the_calendar_puts_inspections_and_the_cover_on_their_days(clock, shop, job, east) -> None:
    drywall(job, TODAY + timedelta(days=2))
    shop.booked(east, insist=True)
    (now_of,) = open_jobs(shop.own(Job), clock.now)
    days = [TODAY + timedelta(days=n) for n in range(4)]
    marks = [[say(mark, "en") for mark in cell.marks] for cell in office_calendar(now_of, days)]
    assert marks == [["rough-in inspection"], [], ["drywall"], []]


def test_its_queries_do_not_grow_with_the_jobs(clock, shop, django_assert_max_num_queries) -> None:
    for _ in range(2):
        shop.roughed_in(HOUSES["clean"])
    with django_assert_max_num_queries(6):
        found = open_jobs(shop.own(Job), clock.now)
        office_lines(found, clock.now)
    for _ in range(4):
        shop.roughed_in(HOUSES["clean"])
    with django_assert_max_num_queries(6):
        assert len(open_jobs(shop.own(Job), clock.now)) == 6


def test_the_page_is_the_offices_and_sieves(client, clock, shop, job, stranger_shop) -> None:
    drywall(job, TODAY)
    other = shop.job("Lot 70")
    client.force_login(shop.office)
    text = client.get("/today/").text
    assert "Call the builder" in text
    assert job.name in text
    assert other.name in text
    text = client.get("/today/", {"find": "lot 70"}).text
    assert other.name in text
    assert job.name not in text.split("<tbody>")[1]
    assert "No open job matches." in client.get("/today/", {"stage": "final"}).text
    stranger_shop.job("Lot 71")
    assert "Lot 71" not in client.get("/today/").text
    client.force_login(shop.lead)
    assert client.get("/today/").status_code == 404
