"""Settling: caches follow facts, and nothing is lost when a message or a worker is."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from config.messages.stored import to_json
from inspections.checker.finding import Verdict
from inspections.conclusions.areas import area_holds, job_stage
from inspections.models import AreaStanding, CoverRelease, JobStanding, Outcome
from inspections.services.facts import changing_facts
from inspections.services.observations import item_observe, items_observe
from inspections.services.permits import permit_extend
from inspections.services.settling import job_settle, jobs_due
from inspections.tasks import settle_due
from jobs.models import Permit
from jobs.services.authorities import authority_change
from notifications.models import Notice
from tests.clock import Clock

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def test_a_change_makes_the_job_due_and_settling_ends_that(shop, job) -> None:
    job_settle(job.id)
    assert jobs_due() == []
    item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX)
    assert jobs_due() == [job.id]
    settle_due()
    assert jobs_due() == []


def test_the_doorbell_settles_after_commit(shop, job, django_capture_on_commit_callbacks) -> None:
    with django_capture_on_commit_callbacks(execute=True) as rung:
        item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX)
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
    items_observe(
        shop.member, items=list(job.items.filter(verdict=Verdict.VERIFY)), outcome=Outcome.OK
    )
    assert stage() == "rough-in"
    shop.confirm(job)
    assert stage() == "cover-up approval"
    for area in job.areas.all():
        shop.release(area, reference=f"R-{area.code}")
    assert stage() == "construction hookup"


def test_a_permit_that_expires_takes_the_cover_release_with_it(
    shop, house_bytes, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)
    job = shop.roughed_in(house_bytes)
    permit_extend(shop.office, permit=job.permit, expires_on=date(2026, 3, 4))
    area = job.areas.get(code="garage")
    cover_release = shop.release(area)
    settle_due()
    midnight = datetime(2026, 3, 5, 7, 0, tzinfo=UTC)  # of the fifth, in Edmonton
    clock.now = midnight - timedelta(seconds=1)
    settle_due()
    cover_release.refresh_from_db()
    assert cover_release.live
    assert JobStanding.objects.get(job=job).next_at == midnight
    clock.now = midnight
    settle_due()
    cover_release.refresh_from_db()
    assert "expired" in cover_release.withdrawn_because
    assert not AreaStanding.objects.get(area=area).released


def test_a_permit_on_record_for_a_day_to_come_holds_until_then(
    shop, house_bytes, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)
    job = shop.roughed_in(house_bytes)
    area = job.areas.get(code="garage")
    cover_release = shop.release(area)
    Permit.objects.filter(job=job).update(issued_on=date(2026, 3, 5))  # as older versions took it
    job_settle(job.id)
    cover_release.refresh_from_db()
    assert "not valid before Mar 5, 2026" in cover_release.withdrawn_because
    standing = JobStanding.objects.get(job=job)
    midnight = datetime(2026, 3, 5, 7, 0, tzinfo=UTC)  # of the fifth, in Edmonton
    assert (standing.stage, standing.next_at) == ("permit", midnight)
    clock.now = midnight
    settle_due()
    assert AreaStanding.objects.get(area=area).hold_count == 0
    assert JobStanding.objects.get(job=job).stage != "permit"


def test_a_permit_without_end_stops_no_settling(shop, job) -> None:
    Permit.objects.filter(job=job).update(expires_on=date.max)
    settle_due()
    assert jobs_due() == []


def test_what_an_authority_asks_makes_its_jobs_due(shop, job) -> None:
    settle_due()
    assert jobs_due() == []
    authority_change(shop.office, authority=shop.authority, idle_days=30)
    assert jobs_due() == [job.id]
    settle_due()
    assert jobs_due() == []


def test_every_copy_of_a_conclusion_is_what_the_facts_give(shop, planted_bytes, job) -> None:
    shop.roughed_in(planted_bytes, issued=False)
    settle_due()
    looks = job.items.filter(verdict=Verdict.VERIFY)
    items_observe(shop.member, items=list(looks), outcome=Outcome.OK)
    shop.release(job.areas.order_by("id")[0], reference="R-1")
    shop.release(job.areas.order_by("id")[1], reference="R-2")
    item_observe(
        shop.lead, item=looks.filter(area=job.areas.order_by("id")[1])[0], outcome=Outcome.FIX
    )
    settle_due()
    assert shop.own(AreaStanding).filter(released=True).count() == 1
    now = timezone.now()
    for standing in shop.own(AreaStanding).select_related("area__job"):
        found = area_holds(standing.area, now)
        live = CoverRelease.objects.filter(area=standing.area, withdrawn_at__isnull=True)
        assert standing.hold_count == len(found)
        assert [hold["says"] for hold in standing.holds] == [to_json(hold.says) for hold in found]
        assert standing.released == live.exists()
    for standing in shop.own(JobStanding):
        areas = AreaStanding.objects.filter(area__job=standing.job_id)
        assert standing.stage == job_stage(standing.job_id, list(areas))


def test_a_sweep_concludes_of_each_job_what_settling_it_alone_does(
    shop, house_bytes, planted_bytes
) -> None:
    jobs = [shop.roughed_in(house_bytes), shop.roughed_in(planted_bytes, issued=False)]
    jobs += [shop.job("Lot bare"), shop.roughed_in(house_bytes)]
    looks = list(jobs[3].items.filter(verdict=Verdict.VERIFY))
    items_observe(shop.member, items=looks, outcome=Outcome.OK)
    shop.confirm(jobs[3])
    shop.release(jobs[3].areas.first(), reference="R-1")

    def concluded() -> tuple[list[Any], list[Any], list[Any]]:
        areas = shop.own(AreaStanding).order_by("area").values_list("area", "released", "holds")
        standing = shop.own(JobStanding).order_by("job").values_list("job", "stage", "next_at")
        given = shop.own(Notice).filter(moot_at=None).values_list("job", "person", "text")
        return list(areas), list(standing), sorted(given, key=str)

    assert settle_due() == 4
    together = concluded()
    assert len({stage for _, stage, _ in together[1]}) > 2
    assert len({job for job, *_ in together[2]}) > 1
    for job in jobs:
        job_settle(job.id)
    assert concluded() == together


def test_today_is_the_day_at_the_house(job) -> None:
    from inspections.conclusions.areas import today_at

    just_after_midnight = datetime(2026, 3, 16, 5, 0, tzinfo=UTC)
    assert today_at(job, just_after_midnight) == date(2026, 3, 15)
