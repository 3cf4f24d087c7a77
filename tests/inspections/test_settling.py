"""Settling: caches follow facts, and nothing is lost when a message or a worker is."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from inspections.checker import Verdict
from inspections.conclusions import area_holds, job_stage
from inspections.models import AreaStanding, Clearance, JobStanding
from inspections.services import item_observe, job_settle, jobs_due
from inspections.services.facts import changing_facts
from inspections.tasks import settle_due
from jobs.models import Permit

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def test_a_change_makes_the_job_due_and_settling_ends_that(shop, job) -> None:
    job_settle(job.id)
    assert jobs_due() == []
    item_observe(shop.lead, item=job.items.first(), outcome="fail")
    assert jobs_due() == [job.id]
    settle_due()
    assert jobs_due() == []


def test_the_doorbell_settles_after_commit(shop, job, django_capture_on_commit_callbacks) -> None:
    with django_capture_on_commit_callbacks(execute=True) as rung:
        item_observe(shop.lead, item=job.items.first(), outcome="fail")
    assert len(rung) == 1
    assert jobs_due() == []


def test_a_change_that_is_rolled_back_rings_nothing(
    shop, job, django_capture_on_commit_callbacks
) -> None:
    before = JobStanding.objects.get(job=job).facts
    with (
        django_capture_on_commit_callbacks() as rung,
        pytest.raises(ZeroDivisionError),
        changing_facts(shop.office, "nothing", job.id),
    ):
        raise ZeroDivisionError
    assert rung == []
    assert JobStanding.objects.get(job=job).facts == before


def test_the_stage_follows_the_facts(shop, job) -> None:
    def stage() -> str:
        settle_due()
        return JobStanding.objects.get(job=job).stage

    assert stage() == "rough-in"
    for item in job.items.filter(verdict=Verdict.LOOK):
        item_observe(shop.member, item=item, outcome="pass")
    assert stage() == "cover-up approval"
    for area in job.areas.all():
        shop.clear(area, reference=f"R-{area.code}")
    assert stage() == "construction hookup"


def test_a_permit_that_expires_takes_the_clearance_with_it(shop, job) -> None:
    area = job.areas.get(code="garage")
    clearance = shop.clear(area)
    settle_due()
    yesterday = timezone.now().date() - timedelta(days=2)
    Permit.objects.filter(job=job).update(expires_on=yesterday)
    settle_due()
    clearance.refresh_from_db()
    assert "expired" in clearance.withdrawn_because
    assert not AreaStanding.objects.get(area=area).cleared


def test_every_copy_of_a_conclusion_is_what_the_facts_give(shop, planted_bytes, job) -> None:
    shop.roughed_in(planted_bytes, issued=False)
    settle_due()
    now = timezone.now()
    for standing in AreaStanding.objects.select_related("area__job"):
        found = area_holds(standing.area, now)
        live = Clearance.objects.filter(area=standing.area, withdrawn_at__isnull=True)
        assert standing.hold_count == len(found)
        assert [hold["says"] for hold in standing.holds] == [hold.says for hold in found]
        assert standing.cleared == live.exists()
    for standing in JobStanding.objects.all():
        areas = AreaStanding.objects.filter(area__job=standing.job_id)
        assert standing.stage == job_stage(standing.job_id, list(areas))


def test_today_is_the_day_at_the_house(job) -> None:
    from datetime import UTC, datetime

    from inspections.conclusions import today_at

    just_after_midnight = datetime(2026, 3, 16, 5, 0, tzinfo=UTC)
    assert today_at(job, just_after_midnight) == date(2026, 3, 15)
