"""Settling jobs: what follows from their facts, drawn again and kept for fast lists."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from inspections.conclusions import job_stage, permit_turns
from inspections.ground import Ground
from inspections.models import JobStanding
from inspections.services.facts import areas_conclude, lock_areas_of, lock_standings
from jobs.prepared import Prepared, PreparedUpdate
from jobs.signals import jobs_settled

TOGETHER = 50
"""Jobs that a sweep settles in one transaction: each kind of fact is read once for all of them."""

_KEEP = PreparedUpdate(JobStanding, "job_id", ("stage", "settled", "next_at"))


def job_settle(job_id: UUID) -> None:
    """Draw the job's holds and stage anew; withdraw what may not stand; give notice."""
    jobs_settle([job_id])


@transaction.atomic
def jobs_settle(job_ids: Sequence[UUID]) -> None:
    """The same for several jobs in one transaction.

    Safe to run twice or at once with a change of facts: the areas are locked first, then the
    standings, and `settled` only ever moves up to what this settling saw. What follows a settling
    answers with the next moment at which the clock changes it; the earliest is kept.
    """
    now = timezone.now()
    areas, standings = lock_areas_of(job_ids), lock_standings(job_ids)
    if not standings:
        return
    ground = Ground.of([standing.job_id for standing in standings], areas)
    drawn = areas_conclude(areas, now, ground)
    for area in areas:
        area.standing = drawn[area.id]
    for standing in standings:
        mine = [drawn[area.id] for area in ground.areas_of(standing.job_id)]
        standing.stage = job_stage(standing.job_id, mine, ground, now)
        standing.settled = standing.facts
        ground.jobs[standing.job_id].standing = standing
    answers = [answer for _, answer in jobs_settled.send(Ground, ground=ground, now=now)]
    for standing in standings:
        job_id = standing.job_id
        turns = permit_turns(ground, ground.jobs[job_id], now)
        moments = [turns, *(answer.get(job_id) for answer in answers)]
        standing.next_at = min((m for m in moments if m is not None and m > now), default=None)
    _KEEP(standings)


def _due(now: datetime) -> QuerySet[JobStanding, UUID]:
    due = JobStanding.objects.filter(Q(settled__lt=F("facts")) | Q(next_at__lte=now))
    return due.order_by("job").values_list("job", flat=True)


_DUE: Prepared[UUID] = Prepared(_due)


def jobs_due() -> list[UUID]:
    """Jobs with facts not settled yet, and those whose next moment has come."""
    return _DUE(timezone.now())


def due_settle() -> int:
    """The sweep: settle every job that is due, some together; how many there were.

    Where some cannot be settled together each is by itself, so that one keeps no other waiting.
    """
    due = jobs_due()
    for first in range(0, len(due), TOGETHER):
        together = due[first : first + TOGETHER]
        try:
            jobs_settle(together)
        except Exception:  # noqa: BLE001 - what cannot be settled by itself is raised from there
            _one_by_one(together)
    return len(due)


def _one_by_one(job_ids: Iterable[UUID]) -> None:
    faults = []
    for job_id in job_ids:
        try:
            job_settle(job_id)
        except Exception as fault:  # noqa: BLE001 - the others first
            faults.append(fault)
    if faults:
        raise faults[0]
