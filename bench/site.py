"""The site against bare Django: `python -m bench.site [QUICK]`.

Each floor is the least that the same machine and libraries do for the same work, in turn with ours.
"""

import gc
import os
import resource
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import Any
from uuid import uuid4

from celery import shared_task

from bench.__main__ import Row, measured_in_turn

ROUNDS = 30
SMALL, LARGE, DUE = 1_000, 10_000, 50
REQUESTS = 10_000


def start_site() -> Any:
    """A shop in a database of its own, and a broker."""
    from tests.people import Shopful

    return Shopful("Bench")


def site_comparisons(quick: bool) -> list[Row]:
    """Each comparison of the site."""
    from django.test import Client

    shop = start_site()
    client = Client(headers={"host": "localhost"})
    client.force_login(shop.office)
    rounds = ROUNDS
    if quick:
        rounds = 10
    job = _job(shop)
    less = 1
    if quick:
        less = 4
    return [
        _tick(client, shop, job, rounds),
        _cover(client, shop, job, rounds),
        _memory(client, job, 250 if quick else REQUESTS),
        *_sweeps(shop, SMALL // less, LARGE // less),
    ]


def _job(shop: Any) -> Any:
    from tests.inspections.tiny import HOUSES

    job = shop.roughed_in(HOUSES["clean"])
    shop.release(job.areas.get(code="east"))
    return job


def _tick(client: Any, shop: Any, job: Any, rounds: int) -> Row:
    """A tick through the API until its job is settled; one INSERT and one empty task."""
    from django.db import transaction
    from django.utils import timezone

    from inspections.checker.finding import Verdict
    from inspections.models import Observation
    from inspections.services.settling import job_settle

    item = job.items.filter(verdict=Verdict.VERIFY).first()

    def ours() -> None:
        now = timezone.now().isoformat()
        tick = {"id": str(uuid4()), "item": str(item.id), "outcome": "ok"}
        tick |= {"fingerprint": item.fingerprint, "made_at": now, "known_at": now}
        body = {"phone_now": now, "ticks": [tick]}
        address = f"/api/jobs/{job.id}/observations"
        answer = client.post(address, body, content_type="application/json")
        assert answer.status_code == 200, answer.content
        job_settle(job.id)

    def floor() -> None:
        with transaction.atomic():
            Observation.objects.create(
                item=item,
                outcome="ok",
                fingerprint=item.fingerprint,
                seen_by=shop.office,
                seen_at=timezone.now(),
                recorded_at=timezone.now(),
            )
        nothing.apply()

    return (
        "a tick by the API, settled: an INSERT and an empty task",
        *measured_in_turn(ours, floor, rounds),
        3,
    )


@shared_task(name="bench.nothing")
def nothing() -> None:
    """A task that does nothing."""


def _cover(client: Any, shop: Any, job: Any, rounds: int) -> Row:
    """A cover page by its link; a bare view that reads one row by its key."""
    from django.http import HttpResponse
    from django.urls import path

    from config import urls
    from inspections.services.links import cover_link_make
    from jobs.models import Job

    _, secret = cover_link_make(shop.office, job=job, for_whom="Bench")

    def bare(_request: Any) -> HttpResponse:
        return HttpResponse(Job.objects.get(id=job.id).name)

    urls.urlpatterns.append(path("bare-row/", bare))
    ours = _getter(client, f"/l/{secret}")
    return (
        "cover page by link: a view that reads one row",
        *measured_in_turn(ours, _getter(client, "/bare-row/"), rounds),
        2,
    )


def _getter(client: Any, address: str) -> Callable[[], None]:
    def get() -> None:
        answer = client.get(address)
        assert answer.status_code == 200, answer.status_code

    return get


def _sweeps(shop: Any, small: int, large: int) -> list[Row]:
    """The sweep over many jobs of which some are due; the query for those and a bare loop."""
    from django.utils import timezone

    from inspections.models import JobStanding
    from inspections.services.settling import due_settle
    from jobs.models import Job

    made: list[Any] = []

    def add(count: int) -> None:
        jobs = []
        for n in range(count):
            jobs.append(
                Job(
                    shop=shop.shop,
                    name=f"Lot {n}",
                    time_zone="America/Edmonton",
                    builder=shop.firm,
                    authority=shop.authority,
                )
            )
        Job.objects.bulk_create(jobs, batch_size=500)
        standings = []
        for job in jobs:
            standings.append(JobStanding(job=job, stage="rough-in"))
        JobStanding.objects.bulk_create(standings, batch_size=500)
        made.extend(jobs)

    def due() -> None:
        past = timezone.now() - timedelta(seconds=1)
        ids = []
        for job in made[:DUE]:
            ids.append(job.id)
        JobStanding.objects.filter(job__in=ids).update(next_at=past)

    def sweep() -> None:
        due()
        assert due_settle() == DUE

    def bare() -> None:
        due()
        for standing in JobStanding.objects.filter(next_at__lte=timezone.now()).select_related(
            "job"
        ):
            assert standing.job.name

    add(small)
    first = measured_in_turn(sweep, bare, 15)
    add(large - small)
    later = measured_in_turn(sweep, bare, 15)
    return [
        (f"sweep, {small:,} jobs, {DUE} due: a query and a loop", *first, 3),
        (f"sweep of {large:,} jobs: of {small:,} with as many due", later[0], first[0], 1.2),
    ]


def _memory(client: Any, job: Any, requests: int) -> Row:
    """The process after many requests; after a hundred."""
    pages = ["/", "/today/", f"/jobs/{job.id}/", f"/api/jobs/{job.id}"]
    for n in range(100):
        client.get(pages[n % len(pages)])
    gc.collect()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    for n in range(requests):
        client.get(pages[n % len(pages)])
    gc.collect()
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return (f"MB of the process after {requests:,} requests: after 100", after, before, 1.1)


@contextmanager
def surroundings() -> Iterator[None]:
    """Django on a database, a folder and a broker of its own, before anything of it is imported."""
    from tests.servers import valkey

    with valkey() as broker:
        os.environ["REDIS_URL"] = broker
        _set_up()
        yield


def _set_up() -> None:
    os.environ["STUDBAY_VAR"] = tempfile.mkdtemp(prefix="studbay-bench-")
    os.environ["STUDBAY_CALLS_A_MINUTE"] = "1000000"
    os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def main() -> int:
    """Print the table; 1 when a goal is missed."""
    from bench.table import print_table

    with surroundings():
        return print_table(site_comparisons("quick" in sys.argv))


if __name__ == "__main__":
    sys.exit(main())
