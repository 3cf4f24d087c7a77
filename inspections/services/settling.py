"""Settling a job: what follows from its facts, drawn again and kept for fast lists."""

from datetime import UTC, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from inspections.conclusions import job_stage, permit_facts
from inspections.models import JobStanding
from inspections.services.facts import areas_conclude, lock_areas
from jobs.models import Job
from jobs.signals import job_settled


def job_settle(job_id: UUID) -> None:
    """Draw the job's holds and stage anew; withdraw what may not stand; give notice.

    Safe to run twice or at once with a change of facts: the areas are locked first, and
    `settled` only ever moves up to what this settling saw. What follows a settling answers
    with the next moment at which the clock changes it; the earliest is kept.
    """
    now = timezone.now()
    with transaction.atomic():
        standings = areas_conclude(lock_areas(job_id), now)
        standing = JobStanding.objects.select_for_update(no_key=True).filter(job=job_id).first()
        if standing is None:
            return
        standing.stage = job_stage(job_id, standings)
        standing.settled = standing.facts
        standing.save(update_fields=["stage", "settled"])
        answers = job_settled.send(sender=JobStanding, job_id=job_id, now=now)
        moments = [_permit_ends(job_id), *(moment for _, moment in answers)]
        standing.next_at = min((m for m in moments if m is not None and m > now), default=None)
        standing.save(update_fields=["next_at"])


def _permit_ends(job_id: UUID) -> datetime | None:
    """The first moment at which the job's permit is no longer good, at the house."""
    job = Job.objects.select_related("authority").get(id=job_id)
    permit = permit_facts(job)
    if permit is None or permit.closed_on is not None or permit.last_day is None:
        return None
    after = permit.last_day + timedelta(days=1)
    return datetime.combine(after, time(), ZoneInfo(job.time_zone)).astimezone(UTC)


def jobs_due() -> list[UUID]:
    """Jobs with facts not settled yet, and those whose next moment has come."""
    behind, come = Q(settled__lt=F("facts")), Q(next_at__lte=timezone.now())
    due = JobStanding.objects.filter(behind | come)
    return list(due.order_by("job").values_list("job", flat=True))
