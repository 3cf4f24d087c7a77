"""What a sweep costs follows what is due, not how many jobs and messages there are."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inspections.models import JobStanding
from inspections.services.settling import jobs_due
from inspections.tasks import settle_due
from notifications.models import Channel, Delivery, Lane, NoticeRules
from notifications.services.outbox import take
from notifications.tasks import tick
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db

NOON = datetime(2026, 3, 3, 19, 0, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(NOON).put(monkeypatch)


def queries(act) -> list[str]:
    with CaptureQueriesContext(connection) as captured:
        act()
    return [query["sql"] for query in captured.captured_queries]


def beat() -> None:
    settle_due()
    tick()


def test_a_beat_with_nothing_due_costs_the_same_however_many_jobs_there_are(clock, shop) -> None:
    shop.roughed_in(HOUSES["clean"])
    beat()
    beat()
    few = queries(beat)
    for number in range(30):
        shop.job(f"Lot {number}")
    beat()
    beat()
    assert shop.own(JobStanding).count() == 31
    assert len(queries(beat)) == len(few)


def test_a_beat_settles_the_job_whose_moment_has_come_and_no_other(clock, shop) -> None:
    jobs = [shop.job(f"Lot {number}") for number in range(3)]
    beat()
    soon = clock.now + timedelta(minutes=1)
    JobStanding.objects.filter(job=jobs[1]).update(next_at=soon)
    assert jobs_due() == []
    clock.now = soon
    assert jobs_due() == [jobs[1].id]
    beat()
    assert jobs_due() == []


@pytest.mark.parametrize("table", ["inspections_jobstanding", "notifications_delivery"])
def test_what_is_due_is_found_by_an_index(clock, shop, table) -> None:
    shop.job()
    shop.own(NoticeRules).update(next_at=timezone.now() + timedelta(days=1))

    def ask() -> None:
        jobs_due()
        take(Lane.ORDINARY, Channel.EMAIL)

    asked = next(sql for sql in queries(ask) if f'FROM "{table}"' in sql)
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN QUERY PLAN {asked}")
        plan = " ".join(str(row) for row in cursor.fetchall())
    assert "USING INDEX" in plan or "USING COVERING INDEX" in plan, plan
    assert shop.own(Delivery).count() == 0
