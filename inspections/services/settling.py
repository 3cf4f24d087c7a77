"""Settling a job: what follows from its facts, drawn again and kept for fast lists."""

from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from inspections.conclusions import job_stage
from inspections.models import JobStanding
from inspections.services.facts import area_conclude, lock_areas
from jobs.signals import job_settled


def job_settle(job_id: UUID) -> None:
    """Draw the job's holds and stage anew; withdraw what may not stand; give notice.

    Safe to run twice or at once with a change of facts: the areas are locked first, and
    `settled` only ever moves up to what this settling saw.
    """
    now = timezone.now()
    with transaction.atomic():
        standings = [area_conclude(area, now) for area in lock_areas(job_id)]
        job = JobStanding.objects.select_for_update(no_key=True).filter(job=job_id).first()
        if job is not None:
            job.stage = job_stage(job_id, standings)
            job.settled = job.facts
            job.save(update_fields=["stage", "settled"])
            job_settled.send(sender=JobStanding, job_id=job_id)


def jobs_due() -> list[UUID]:
    """Jobs with facts not settled yet, and those that the clock alone has moved.

    A permit expires at midnight where the house stands, so one that expires by tomorrow
    anywhere is looked at while areas of its job are clear.
    """
    tomorrow = (timezone.now() + timedelta(days=1)).date()
    cleared = Q(job__areas__standing__cleared=True, job__permit__closed_on__isnull=True)
    may_end = Q(job__permit__expires_on__lt=tomorrow) | Q(job__authority__idle_days__isnull=False)
    due = JobStanding.objects.filter(Q(settled__lt=F("facts")) | (cleared & may_end))
    return list(due.order_by("job").values_list("job", flat=True).distinct())
