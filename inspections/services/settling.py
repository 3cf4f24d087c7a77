"""Settling jobs: what follows from their facts, drawn again and kept for fast lists."""

import logging
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from config.faults import said_of
from config.redact import redacted
from inspections.conclusions.areas import job_stage, permit_turns
from inspections.conclusions.job_facts import JobRows
from inspections.models import JobStanding
from inspections.services.facts import areas_conclude, lock_areas_of, lock_standings
from jobs.prepared_queries import PreparedUpdate
from jobs.signals import job_set_aside, jobs_settled

TOGETHER = 50
"""Jobs that a sweep settles in one transaction: each kind of fact is read once for all of them."""

FIRST_PAUSE, LONGEST_PAUSE = timedelta(minutes=1), timedelta(hours=6)
"""Before a job that was set aside is tried again: doubled each time, up to the longest."""
MOST_TRIES = 20

_KEEP = PreparedUpdate(JobStanding, "job_id", ("stage", "settled", "next_at", "drawn_at"))
_ASIDE = ("set_aside_at", "set_aside_because", "tries", "try_at")
log = logging.getLogger(__name__)


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
    ground = JobRows.of([standing.job_id for standing in standings], areas)
    drawn = areas_conclude(areas, now, ground)
    for area in areas:
        area.standing = drawn[area.id]
    for standing in standings:
        mine = []
        for area in ground.areas_of(standing.job_id):
            mine.append(drawn[area.id])
        standing.stage = job_stage(standing.job_id, mine, ground, now)
        standing.settled = standing.facts
        ground.jobs[standing.job_id].standing = standing
    answers: list[Any] = []
    for _, answer in jobs_settled.send(JobRows, ground=ground, now=now):
        answers.append(answer)
    for standing in standings:
        standing.drawn_at = now
        standing.next_at = _next_moment(ground, standing.job_id, answers, now)
    _KEEP(standings)
    _take_back([each for each in standings if each.set_aside_at is not None])


def _next_moment(
    ground: JobRows, job_id: UUID, answers: Iterable[Mapping[UUID, datetime]], now: datetime
) -> datetime | None:
    """When the clock next changes the job: its permit, or what follows a settling."""
    moments = [permit_turns(ground, ground.jobs[job_id], now)]
    for answer in answers:
        moments.append(answer.get(job_id))
    ahead = []
    for moment in moments:
        if moment is not None and moment > now:
            ahead.append(moment)
    return min(ahead, default=None)


def _take_back(standings: Sequence[JobStanding]) -> None:
    """Those that could be settled again are set aside no more."""
    if not standings:
        return
    for standing in standings:
        standing.set_aside_at = standing.try_at = None
        standing.set_aside_because, standing.tries = "", 0
        log.warning("job %s is settled again", standing.job_id)
    JobStanding.objects.bulk_update(standings, _ASIDE)
    job_ids = []
    for each in standings:
        job_ids.append(each.job_id)
    job_set_aside.send(JobStanding, job_ids=job_ids)


def jobs_due() -> list[UUID]:
    """Jobs with facts not settled yet, and those whose next moment has come.

    One that was set aside is due when it is to be tried again.
    """
    now = timezone.now()
    due = JobStanding.objects.filter(Q(settled__lt=F("facts")) | Q(next_at__lte=now))
    due = due.filter(Q(set_aside_at=None) | Q(try_at__lte=now))
    return list(due.order_by("job").values_list("job", flat=True))


def due_settle() -> int:
    """The sweep: settle every job that is due, some together; how many there were.

    Where some cannot be settled together each is by itself, so that one keeps no other waiting.
    """
    due = jobs_due()
    for first in range(0, len(due), TOGETHER):
        together = due[first : first + TOGETHER]
        try:
            jobs_settle(together)
        except Exception:  # noqa: BLE001 - each is tried by itself, and the one at fault is told
            for job_id in together:
                settled_or_set_aside(job_id)
    return len(due)


def settled_or_set_aside(job_id: UUID) -> bool:
    """Settle a job; whether it could be. One that cannot is set aside, told of and tried again.

    Raises what the database raises when it is away: then nothing can be set aside either.
    """
    try:
        job_settle(job_id)
    except Exception as fault:  # noqa: BLE001 - whatever it is, it must hold up no other job
        _set_aside(job_id, fault)
        return False
    return True


@transaction.atomic
def _set_aside(job_id: UUID, fault: Exception) -> None:
    now = timezone.now()
    standing = lock_standings([job_id])[0]
    standing.set_aside_at = standing.set_aside_at or now
    standing.set_aside_because = redacted(said_of(fault))[:200]
    standing.tries = min(standing.tries + 1, MOST_TRIES)
    standing.try_at = now + min(FIRST_PAUSE * 2 ** (standing.tries - 1), LONGEST_PAUSE)
    standing.save(update_fields=_ASIDE)
    words = "job %s cannot be settled (try %s), and is set aside until %s"
    log.error(words, job_id, standing.tries, standing.try_at.isoformat(), exc_info=fault)
    job_set_aside.send(JobStanding, job_ids=[job_id])
