"""What a page and a settling cost does not grow with the shop."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from inspections.models import JobStanding
from inspections.services.settling import job_settle
from inspections.tasks import settle_due
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


def queries(act) -> list[str]:
    with CaptureQueriesContext(connection) as captured:
        act()
    return [query["sql"] for query in captured.captured_queries]


@pytest.mark.parametrize("who", ["builder", "office"])
def test_a_job_page_asks_as_often_in_a_shop_of_one_job_as_of_many(client, shop, who) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    client.force_login(getattr(shop, who))
    url = reverse("job", args=[job.id])
    alone = queries(lambda: client.get(url))
    for number in range(40):
        shop.job(f"Lot {number}")
    shop.roughed_in(HOUSES["short"])
    assert len(queries(lambda: client.get(url))) == len(alone)


def test_a_settling_asks_for_each_kind_of_fact_once(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    shop.release(job.areas.first())
    job_settle(job.id)
    asked = [sql for sql in queries(lambda: job_settle(job.id)) if sql.startswith("SELECT")]
    assert len(asked) <= 21, asked
    assert len(set(asked)) == len(asked)


def test_a_settling_that_finds_nothing_new_writes_the_standing_of_the_job_alone(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    shop.release(job.areas.first())
    job_settle(job.id)
    written = [
        sql
        for sql in queries(lambda: job_settle(job.id))
        if sql.split(maxsplit=1)[0] in ("UPDATE", "INSERT", "DELETE")
    ]
    assert [sql.split()[1] for sql in written] == ['"inspections_jobstanding"']


def test_a_sweep_asks_as_often_for_two_jobs_as_for_many(shop) -> None:
    jobs = [shop.roughed_in(HOUSES["clean"]) for _ in range(4)]
    settle_due()

    def sweep(count: int) -> int:
        due = JobStanding.objects.filter(job__in=jobs[:count])
        due.update(next_at=timezone.now())
        return len(queries(settle_due))

    assert sweep(2) == sweep(4)


def test_settling_writes_to_no_other_jobs_rows(shop) -> None:
    job, other = (shop.roughed_in(HOUSES["clean"]) for _ in range(2))
    others = {other.id.hex, str(other.id), *(area.id.hex for area in other.areas.all())}
    others |= {str(area.id) for area in other.areas.all()}
    written = [
        sql
        for sql in queries(lambda: job_settle(job.id))
        if sql.split(maxsplit=1)[0] in ("UPDATE", "INSERT", "DELETE")
    ]
    assert written
    assert all("WHERE" in sql or sql.startswith("INSERT") for sql in written)
    assert not [sql for sql in written if any(identity in sql for identity in others)]
