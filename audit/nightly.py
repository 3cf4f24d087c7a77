"""The audit of every night: all jobs in bounded slices, going on where it stopped, one at a time.

A slice is short, since a small site has one worker for everything. The one who is at it holds a
lease and gives it on with the message that asks for the next slice; when that message or its worker
is lost, the lease runs out and the beat goes on.
"""

import logging
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from time import monotonic

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from audit.auditor import TOGETHER, audit_jobs
from audit.crossings import crossings_of_shop
from audit.found import About, Found, Sort
from inspections.models import AuditedShop, AuditRun
from jobs.models import Job, Shop
from jobs.signals import shop_audited

log = logging.getLogger(__name__)

HOUR = 8
"""Of UTC, when a night's audit begins: after midnight everywhere in North America."""
SLICE_SECONDS, SLICE_JOBS = 2.0, 200
LEASE = timedelta(minutes=2)
UNLIKE = timedelta(minutes=5)
"""A lease for longer than one is, and this, was taken by a clock that was set back since."""
FIRST_LINES = 20
"""Differences of a shop that are kept in words."""
NAMES = ("job", "area", "about", "tables", "facts")
KEPT_NIGHTS = timedelta(days=60)


@dataclass(frozen=True, slots=True)
class Slice:
    """What a slice did. `lease` asks for the next one; empty when there is none to ask for."""

    jobs: int = 0
    lease: str = ""


class _Taken(Exception):
    """Somebody else has the run by now, and keeps what they find."""


def audit_slice(lease: str = "") -> Slice:
    """Go on with this night's audit for a while; without a lease only where nobody is at it."""
    run = _taken(timezone.now(), lease)
    if run is None:
        return Slice()
    until, jobs = monotonic() + SLICE_SECONDS, 0
    try:
        while monotonic() < until and jobs < SLICE_JOBS and run.ended_at is None:
            jobs += _step(run)
    except _Taken:
        return Slice(jobs)
    return Slice(jobs, "" if run.ended_at else run.lease)


def night_of(now: datetime) -> date:
    """The night whose audit is due at a moment."""
    return (now - timedelta(hours=HOUR)).date()


@transaction.atomic
def _taken(now: datetime, lease: str) -> AuditRun | None:
    """The run to go on with, leased; None where it is done or somebody else is at it."""
    last = AuditRun.objects.order_by("night").last()
    if last and last.ended_at is None:
        night = last.night
    else:
        night = night_of(now)
    if last is not None and last.night >= night and last.ended_at is not None:
        return None
    AuditRun.objects.get_or_create(night=night, defaults={"begun_at": now})
    AuditRun.objects.filter(night__lt=night - KEPT_NIGHTS).delete()
    free = Q(lease_until=None) | Q(lease_until__lt=now) | Q(lease_until__gt=now + LEASE + UNLIKE)
    token = lease or secrets.token_hex(16)
    ours = AuditRun.objects.filter(Q(lease=lease) & ~Q(lease="") | free, night=night, ended_at=None)
    if not ours.update(lease=token, lease_until=now + LEASE):
        return None
    return AuditRun.objects.get(night=night)


def _step(run: AuditRun) -> int:
    """Audit the next few jobs of the shop that the run is at, or end that shop; how many jobs."""
    if run.shop_id is None:
        _go_to(run, Shop.objects.order_by("id").first())
        return 0
    waiting = Job.objects.filter(shop=run.shop_id).order_by("id")
    if run.job_id is not None:
        waiting = waiting.filter(id__gt=run.job_id)
    job_ids = list(waiting.values_list("id", flat=True)[:TOGETHER])
    if not job_ids:
        _note(run, crossings_of_shop(run.shop_id))
        _end_shop(run)
        return 0
    _note(run, audit_jobs(job_ids))
    run.jobs += len(job_ids)
    run.here["jobs"] = run.here.get("jobs", 0) + len(job_ids)
    run.job_id = job_ids[-1]
    _keep(run)
    return len(job_ids)


def _note(run: AuditRun, found: Iterable[Found]) -> None:
    """Count what was found, tell it to the log, and keep the first of it for the office."""
    here = run.here
    for line in found:
        if line.sort is Sort.STATE:
            run.states += 1
            here["states"] = here.get("states", 0) + 1
            continue
        log.error("audit: %s", line.line())
        run.differences += 1
        here["differences"] = here.get("differences", 0) + 1
        lines = here.setdefault("lines", [])
        texts = {}
        for name in NAMES:
            texts[name] = str(getattr(line, name))
        lines.append(texts)
        lines.sort(key=lambda each: each["about"] != About.COVER_RELEASE)  # the gravest first
        del lines[FIRST_LINES:]


@transaction.atomic
def _end_shop(run: AuditRun) -> None:
    """Keep what was found in the shop, so that its office is told; go on to the next."""
    here, shop_id = run.here, run.shop_id
    assert shop_id is not None  # a run is at a shop until it is over
    _go_to(run, Shop.objects.filter(id__gt=shop_id).order_by("id").first())
    if Shop.objects.filter(id=shop_id).exists():
        given = {}
        for name in ("jobs", "differences", "states"):
            given[name] = here.get(name, 0)
        given |= {"audited_at": timezone.now(), "lines": here.get("lines", [])}
        AuditedShop.objects.update_or_create(shop_id=shop_id, defaults=given)
        shop_audited.send(sender=Shop, shop_id=shop_id)


def _go_to(run: AuditRun, shop: Shop | None) -> None:
    """Begin a shop; without one the run is over."""
    run.shop_id, run.job_id, run.here = None, None, {}
    if shop is not None:
        run.shop_id = shop.id
    if shop is None:
        run.ended_at = timezone.now()
        log.info(
            "audit of %s: %d jobs, %d differences, %d states",
            *(run.night, run.jobs, run.differences, run.states),
        )
    _keep(run)


def _keep(run: AuditRun) -> None:
    """Write down how far a run has come. Raises _Taken where it is no longer ours."""
    run.lease_until = timezone.now() + LEASE
    names = ("ended_at", "lease_until", "shop_id", "job_id", "jobs", "differences", "states")
    values = {}
    for name in (*names, "here"):
        values[name] = getattr(run, name)
    ours = AuditRun.objects.filter(night=run.night, lease=run.lease, ended_at=None)
    if not ours.update(**values):
        raise _Taken
