"""The audit of every night: in slices, going on where it stopped, by one; the office is told."""

from datetime import UTC, date, datetime, timedelta
from importlib import import_module

import pytest
from django.apps import apps
from django.utils import timezone

from audit import nightly
from audit.nightly import audit_slice
from audit.tasks import go_on
from config.languages import say
from inspections.models import AreaStanding, AuditedShop, AuditRun, JobStanding
from inspections.tasks import settle_due
from jobs.models import Job, Permit
from notifications.models import Notice
from notifications.services.notices import shop_follow
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = [pytest.mark.django_db, pytest.mark.alone]
NIGHT = datetime(2026, 3, 3, 8, 0, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(NIGHT - timedelta(hours=6)).put(monkeypatch)


@pytest.fixture
def jobs(clock, shop, stranger_shop) -> list[Job]:
    """Five jobs in two shops, settled."""
    made = [shop.roughed_in(HOUSES["clean"]) for _ in range(3)]
    made += [stranger_shop.roughed_in(HOUSES["clean"]) for _ in range(2)]
    settle_due()
    clock.now = NIGHT
    return made


def falsify(job: Job) -> None:
    """The copies of a job say otherwise than its facts."""
    JobStanding.objects.filter(job=job).update(stage="final")


def test_a_run_audits_every_job_once_and_another_begins_the_next_night(clock, jobs) -> None:
    assert go_on() == 5
    run = AuditRun.objects.get()
    assert (run.night, run.jobs, run.differences) == (date(2026, 3, 3), 5, 0)
    assert run.ended_at is not None
    clock.now += timedelta(hours=23)
    assert go_on() == 0
    clock.now += timedelta(hours=1)
    settle_due()
    assert go_on() == 5
    assert AuditRun.objects.count() == 2


def test_slices_are_bounded_and_go_on_where_the_last_one_stopped(jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "TOGETHER", 1)
    monkeypatch.setattr(nightly, "SLICE_JOBS", 2)
    first = audit_slice()
    assert first.jobs == 2
    assert first.lease
    second = audit_slice(first.lease)
    assert (second.jobs, second.lease) == (2, first.lease)
    last = audit_slice(second.lease)
    assert (last.jobs, last.lease) == (1, "")
    assert AuditRun.objects.get().jobs == 5


def test_a_slice_ends_after_its_time(jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "TOGETHER", 1)
    monkeypatch.setattr(nightly, "SLICE_SECONDS", 0.0)
    done = audit_slice()
    assert done.jobs == 0
    assert done.lease


def test_nobody_else_takes_a_run_that_somebody_is_at(clock, jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "TOGETHER", 1)
    monkeypatch.setattr(nightly, "SLICE_JOBS", 1)
    first = audit_slice()
    assert audit_slice().jobs == 0
    assert audit_slice("some other lease").jobs == 0
    assert audit_slice(first.lease).jobs == 1


def test_a_run_whose_worker_died_is_taken_up_by_the_beat(clock, jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "TOGETHER", 1)
    monkeypatch.setattr(nightly, "SLICE_JOBS", 2)
    lost = audit_slice()
    clock.now += nightly.LEASE + timedelta(seconds=1)
    taken = audit_slice()
    assert taken.jobs == 2
    assert taken.lease != lost.lease
    assert audit_slice(lost.lease).jobs == 0
    assert audit_slice(taken.lease).jobs == 1


def test_a_lease_of_a_clock_that_was_set_back_is_nobodys(clock, jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "TOGETHER", 1)
    monkeypatch.setattr(nightly, "SLICE_JOBS", 1)
    audit_slice()
    AuditRun.objects.update(lease_until=timezone.now() + timedelta(hours=1))
    assert audit_slice().jobs == 1


def test_whoever_lost_a_run_keeps_nothing_more(clock, jobs, monkeypatch) -> None:
    def taken(job_ids):
        AuditRun.objects.update(lease="another")
        return []

    monkeypatch.setattr(nightly, "audit_jobs", taken)
    assert audit_slice().lease == ""
    assert AuditRun.objects.get().jobs == 0


def test_the_office_is_told_once_of_what_was_found_and_no_more_when_it_is_gone(
    clock, shop, stranger_shop, jobs, caplog
) -> None:
    falsify(jobs[0])
    falsify(jobs[1])
    go_on()
    kept = AuditedShop.objects.get(shop=shop.shop)
    assert (kept.jobs, kept.differences) == (3, 2)
    assert AuditedShop.objects.get(shop=stranger_shop.shop).differences == 0
    assert sum("audit: difference: Lot 15: stage" in each for each in caplog.messages) == 2

    def told() -> list[str]:
        for each in (shop, stranger_shop):
            shop_follow(each.shop.id)
        found = Notice.objects.filter(reason="audit", moot_at=None)
        assert {notice.shop_id for notice in found} <= {shop.shop.id}
        return [f"{notice.person.username.split('-')[0]}: {say(notice.text)}" for notice in found]

    (text,) = told()
    assert text == (
        "office: Ostrander & Vale Electric: the nightly audit found 2 differences. Lot 15: the "
        "stage shown is not what the records give. Call whoever runs the site."
    )
    clock.now += timedelta(days=1)
    settle_due()
    falsify(jobs[0])
    falsify(jobs[1])
    go_on()
    assert told() == [text]
    clock.now += timedelta(days=1)
    JobStanding.objects.update(next_at=clock.now)
    settle_due()
    go_on()
    assert told() == []


def test_an_area_shown_as_ok_to_cover_that_is_held_is_urgent(clock, shop, jobs) -> None:
    area = jobs[0].areas.get(code="east")
    shop.release(area)
    settle_due()
    Permit.objects.filter(job=jobs[0]).update(expires_on=date(2026, 3, 1))
    go_on()
    shop_follow(shop.shop.id)
    notice = Notice.objects.get(reason="audit")
    assert notice.urgent
    assert "East: shown as OK TO COVER, and something holds it. Keep the area open." in say(
        notice.text
    )
    assert AreaStanding.objects.get(area=area).released


def test_what_was_found_before_a_rename_is_told_by_no_second_notice(shop, jobs) -> None:
    shop.release(jobs[0].areas.get(code="east"))
    settle_due()
    Permit.objects.filter(job=jobs[0]).update(expires_on=date(2026, 3, 1))
    go_on()
    shop_follow(shop.shop.id)
    given = list(Notice.objects.order_by("id").values())
    found = AuditedShop.objects.get(shop=shop.shop).lines
    tables = import_module("inspections.migrations.0029_cover_release")
    notices = import_module("notifications.migrations.0016_cover_release")
    notices.back(apps, None)
    tables.back(apps, None)
    kept = AuditedShop.objects.get(shop=shop.shop).lines
    assert "clearance" in {each["about"] for each in kept}
    assert Notice.objects.filter(reason="area cleared").exists()
    assert list(Notice.objects.order_by("id").values()) != given
    tables.rename(apps, None)
    notices.rename(apps, None)
    assert AuditedShop.objects.get(shop=shop.shop).lines == found
    assert list(Notice.objects.order_by("id").values()) == given
    shop_follow(shop.shop.id)
    assert list(Notice.objects.order_by("id").values()) == given


def test_many_differences_are_counted_and_the_first_are_kept(shop, jobs, monkeypatch) -> None:
    monkeypatch.setattr(nightly, "FIRST_LINES", 1)
    for job in jobs:
        falsify(job)
    go_on()
    kept = AuditedShop.objects.get(shop=shop.shop)
    assert (kept.differences, len(kept.lines)) == (3, 1)
    assert AuditRun.objects.get().differences == 5


def test_without_a_shop_a_run_ends_at_once(db) -> None:
    assert go_on() == 0
    assert AuditRun.objects.get().ended_at is not None
