"""A job that cannot be settled is set aside, told of, tried again, and holds up nobody."""

import logging
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest
from django.db import OperationalError

from config.languages import say
from inspections.conclusions.areas import job_stage
from inspections.models import JobStanding
from inspections.services import settling
from inspections.services.settling import job_settle, jobs_due
from inspections.tasks import settle_due, settle_job
from notifications.models import Notice
from notifications.services.notices import shop_follow
from notifications.tasks import tick
from tests.clock import Clock

pytestmark = pytest.mark.django_db
MINUTE = timedelta(minutes=1)


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)


class Poison:
    """Jobs whose stage cannot be drawn."""

    def __init__(self, monkeypatch) -> None:
        self.jobs: set[UUID] = set()
        self.fault: Exception = ZeroDivisionError("division by zero")
        self.stage = job_stage
        monkeypatch.setattr(settling, "job_stage", self)

    def __call__(self, job_id, *given):
        if job_id in self.jobs:
            raise self.fault
        return self.stage(job_id, *given)


@pytest.fixture
def poison(monkeypatch) -> Poison:
    return Poison(monkeypatch)


@pytest.mark.alone
def test_one_of_many_holds_up_no_other(shop, clock, poison, caplog) -> None:
    jobs = sorted(shop.job(f"Lot {number}").id for number in range(120))
    poison.jobs = {jobs[20]}
    assert jobs_due() == jobs
    with caplog.at_level(logging.ERROR):
        assert settle_due() == 120
    assert jobs_due() == []
    left = JobStanding.objects.filter(drawn_at=None)
    assert list(left.values_list("job", flat=True)) == [jobs[20]]
    assert f"job {jobs[20]} cannot be settled (try 1)" in caplog.text
    assert "ZeroDivisionError" in caplog.text


def test_it_is_tried_again_after_longer_and_longer_pauses(shop, clock, poison) -> None:
    job = shop.job()
    poison.jobs = {job.id}
    since, pauses = None, []
    for _ in range(12):
        settle_due()
        standing = JobStanding.objects.get(job=job)
        since = since or standing.set_aside_at
        assert standing.set_aside_at == since
        assert standing.set_aside_because == "ZeroDivisionError: division by zero"
        assert jobs_due() == []
        pauses.append(round((standing.try_at - clock.now) / MINUTE))
        clock.now = standing.try_at
        assert jobs_due() == [job.id]
    assert pauses == [1, 2, 4, 8, 16, 32, 64, 128, 256, 360, 360, 360]


def test_once_it_can_be_settled_nothing_is_left_of_it(shop, clock, poison) -> None:
    job = shop.job()
    poison.jobs = {job.id}
    settle_due()
    poison.jobs = set()
    clock.now += 2 * MINUTE
    settle_due()
    standing = JobStanding.objects.get(job=job)
    assert (standing.set_aside_at, standing.try_at, standing.tries) == (None, None, 0)
    assert (standing.set_aside_because, jobs_due()) == ("", [])


def test_a_message_settles_it_as_soon_as_it_can_be(shop, clock, poison) -> None:
    job = shop.job()
    poison.jobs = {job.id}
    settle_job(str(job.id))
    assert JobStanding.objects.get(job=job).set_aside_at is not None
    poison.jobs = set()
    settle_job(str(job.id))
    assert JobStanding.objects.get(job=job).set_aside_at is None


def test_the_office_is_told_until_it_is_over(shop, clock, poison) -> None:
    job = shop.job("Lot 7")
    poison.jobs = {job.id}
    settle_due()
    tick()
    told = Notice.objects.filter(reason="job set aside", moot_at=None)
    assert not told.exists()  # it may be a moment's trouble
    clock.now += 5 * MINUTE
    tick()
    notice = told.get()
    assert notice.person == shop.office
    assert say(notice.text) == (
        "Lot 7: Not checked yet. Nothing in it counts as released. Whoever runs the site finds "
        "the cause in its log."
    )
    poison.jobs = set()
    settle_due()
    tick()
    assert not told.exists()


def test_the_office_sees_it_on_its_day(client, shop, clock, poison) -> None:
    job = shop.job("Lot 7")
    job_settle(job.id)
    client.force_login(shop.office)
    assert "Not checked" not in client.get("/today/").text
    clock.now += 60 * MINUTE
    JobStanding.objects.filter(job=job).update(next_at=clock.now)
    poison.jobs = {job.id}
    settle_due()
    text = client.get("/today/").text
    since = "Not checked since Mar 2, 2026, 10:00\u202fAM."
    assert f"{since} None of its areas counts as released." in text
    assert "Notify whoever runs the site" in text


def test_while_the_database_is_away_nothing_is_set_aside(shop, clock, poison, monkeypatch) -> None:
    job = shop.job()
    poison.jobs, poison.fault = {job.id}, OperationalError("server closed the connection")

    def away(_job_ids):
        raise OperationalError("server closed the connection")

    monkeypatch.setattr(settling, "lock_standings", away)
    with pytest.raises(OperationalError):
        settle_due()
    monkeypatch.undo()
    assert JobStanding.objects.get(job=job).set_aside_at is None


def test_a_shop_that_cannot_be_told_holds_up_no_other(shop, stranger_shop, monkeypatch) -> None:
    from notifications import tasks

    seen = []

    def faulty(shop_id):
        seen.append(shop_id)
        if shop_id == min(shop.shop.id, stranger_shop.shop.id):
            raise ZeroDivisionError
        return shop_follow(shop_id)

    monkeypatch.setattr(tasks, "shop_follow", faulty)
    tick()
    assert seen == sorted([shop.shop.id, stranger_shop.shop.id])
