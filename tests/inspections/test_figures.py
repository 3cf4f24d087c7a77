"""The figures of a shop, each against a count by hand, and the jobs behind each number."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from config.languages import say
from inspections.models import Answer
from inspections.overview.figures import figure_row, figures_of, jobs_of_row
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.jobs import job_change
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
BEGIN = datetime(2026, 3, 2, 9, tzinfo=ZoneInfo("America/Edmonton"))


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(BEGIN).put(monkeypatch)


def answered(shop, area, answer: Answer, *called: Called) -> None:
    inspection = shop.booked(area, insist=True)
    inspection_answer(
        shop.office,
        inspection=inspection,
        answers={area: answer},
        reference=f"R-{inspection.id.hex[-6:]}",
        called=called,
    )


@pytest.fixture
def jobs(shop, clock):
    """Two houses: one refused in March and accepted in April, one accepted in April at once."""
    slow, quick = shop.roughed_in(HOUSES["clean"]), shop.roughed_in(HOUSES["clean"])
    job_change(shop.office, job=quick, crew_lead=None)
    areas = {job: job.areas.select_related("job__shop").get(code="east") for job in (slow, quick)}
    answered(shop, areas[slow], Answer.NOT_ACCEPTED, Called(areas[slow], "x", rule="box-fill"))
    clock.now = datetime(2026, 4, 7, 9, tzinfo=ZoneInfo("America/Edmonton"))
    answered(shop, areas[slow], Answer.ACCEPTED)
    answered(shop, areas[quick], Answer.ACCEPTED)
    return slow, quick


def rows(shop, now=BEGIN):
    return {
        (figure.key, row.key): [say(cell, "en") for cell in row.cells]
        for figure in figures_of(shop.shop, now)
        for row in figure.rows
    }


def test_the_first_inspection_counts_by_month_crew_and_authority(shop, jobs) -> None:
    found = rows(shop)
    assert found["first-by-month", "2026-03"] == ["0 of 1", "0%"]
    assert found["first-by-month", "2026-04"] == ["1 of 1", "100%"]
    assert found["first-by-crew", "Lead Tester"] == ["0 of 1", "0%"]
    assert found["first-by-crew", ""] == ["1 of 1", "100%"]
    assert found["first-by-authority", "Inspection office"] == ["1 of 2", "50%"]


def test_days_run_from_what_was_last_seen_or_recorded(shop, jobs) -> None:
    assert rows(shop)["waited", "2026-04"] == ["2", "36"]  # 2 March to 7 April, in summer time


def test_a_date_counts_once_it_is_due_or_kept(shop, jobs, clock) -> None:
    slow, quick = jobs
    job_change(shop.office, job=slow, drywall_on=date(2026, 4, 9))
    job_change(shop.office, job=quick, drywall_on=date(2026, 4, 20))
    kind = "promises", "Pellow Homes"
    assert kind not in rows(shop, clock.now)
    assert rows(shop, clock.now + timedelta(days=5))[kind] == ["0 of 1", "3"]
    for area in quick.areas.all():
        if not area.acceptances.exists():
            answered(shop, area, Answer.ACCEPTED)
        shop.look_at(area)
        cover_release_issue(shop.office, area=area)
    assert rows(shop, clock.now + timedelta(days=5))[kind] == ["1 of 2", "3"]


def test_inspections_again_come_with_what_they_cost(shop, jobs) -> None:
    assert rows(shop)["again", "Inspection office"] == ["1", "no fee on record"]
    shop.authority.reinspection_fee = "$120"
    shop.authority.save()
    assert rows(shop)["again", "Inspection office"] == ["1", "$120"]


def test_each_number_leads_to_its_jobs(shop, jobs, stranger_shop, client) -> None:
    slow, quick = jobs
    figures = figures_of(shop.shop, BEGIN)
    expected = {
        ("first-by-month", "2026-03"): [slow],
        ("first-by-authority", "Inspection office"): [slow, quick],
        ("called", "box-fill"): [slow],
        ("inspections", "rough_in"): [slow, quick],
    }
    for (key, name), behind in expected.items():
        _, row = sure(figure_row(figures, key, name))
        assert list(jobs_of_row(shop.shop, row)) == behind
    assert figure_row(figures, "called", "nothing") is None
    assert all(not figure.rows for figure in figures_of(stranger_shop.shop, BEGIN))

    client.force_login(shop.office)
    text = client.get("/figures/").text
    assert "/figures/first-by-month/?of=2026-03" in text
    assert 'width="50.0"' in text
    address = "/figures/called/?of=box-fill"
    assert client.get(address).text.count(f"/jobs/{slow.id}/") == 1
    assert client.get("/figures/called/?of=x").status_code == 404
    client.force_login(stranger_shop.office)
    assert client.get(address).status_code == 404
    for person in (shop.lead, shop.builder):
        client.force_login(person)
        assert client.get(address).status_code == 404


def test_the_number_of_queries_does_not_grow(shop, jobs, django_assert_num_queries) -> None:
    with CaptureQueriesContext(connection) as few:
        figures_of(shop.shop, BEGIN)
    shop.roughed_in(HOUSES["clean"])
    answered(shop, jobs[1].areas.exclude(code="east").first(), Answer.NOT_ACCEPTED)
    with django_assert_num_queries(len(few)):
        figures_of(shop.shop, BEGIN)
