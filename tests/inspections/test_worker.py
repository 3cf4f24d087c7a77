"""A worker that dies between a fact and its settling: the next one settles it within a beat."""

import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
from django.db import connection, transaction

from config.celery import app
from inspections.models import JobStanding, Outcome
from inspections.services.facts import lock_areas
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle, jobs_due
from tests.inspections.broker import forget_messages, queued

BEAT = 1.0  # seconds
ROOT = Path(__file__).resolve().parents[2]

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


@pytest.fixture
def real_broker(settling_at_once):
    """Messages go out to the broker, not to the test's own process."""
    app.conf.task_always_eager = False
    forget_messages()


def worker(*options: str) -> subprocess.Popen[bytes]:
    """A real worker on this test's database and broker."""
    name = connection.settings_dict["NAME"]
    url = os.environ["DATABASE_URL"].replace("/postgres?", f"/{name}?")
    environment = os.environ | {"DATABASE_URL": url, "STUDBAY_SWEEP_SECONDS": str(BEAT)}
    command = [sys.executable, "-m", "celery", "-A", "config", "worker", "--pool", "solo"]
    command += ["--without-mingle", "--without-gossip", "--loglevel", "error", *options]
    return subprocess.Popen(command, env=environment, cwd=ROOT, start_new_session=True)


def wait_until(true, seconds: float) -> float:
    """How long it took to become true; fails when it does not in time."""
    start = time.monotonic()
    while not true():
        assert time.monotonic() - start < seconds, "it did not come true in time"
        time.sleep(0.05)
    return time.monotonic() - start


@pytest.mark.usefixtures("real_broker")
def test_a_killed_worker_loses_nothing(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    job_settle(job.id)
    forget_messages()
    item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX)
    assert queued() == 1

    first = worker()
    with transaction.atomic():
        lock_areas(job.id)  # the worker takes the message, and waits for these rows
        wait_until(lambda: queued() == 0, 60)
        time.sleep(0.5)
        first.kill()
        first.wait()
    assert jobs_due() == [job.id]

    with tempfile.TemporaryDirectory() as folder:
        second = worker("--beat", "--schedule", f"{folder}/beat")
        try:
            wait_until(lambda: jobs_due() == [], 60)
        finally:
            second.send_signal(signal.SIGTERM)
            second.wait(60)
    standing = JobStanding.objects.get(job=job)
    assert standing.settled == standing.facts
    assert standing.stage == "rough-in"
