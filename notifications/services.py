"""Writes of notices."""

from uuid import UUID

from django.db import transaction
from django.utils import timezone

from jobs.models import Job, Person
from notifications.models import Notice
from notifications.reason import reasons


@transaction.atomic
def notices_follow(job_id: UUID) -> int:
    """Give every notice that is due for the job and was not given yet; how many there were.

    Safe to repeat: the database keeps one notice per person, reason and occasion.
    """
    job = Job.objects.get(id=job_id)
    now = timezone.now()
    due = [
        Notice(
            person=each.person,
            job=job,
            reason=reason.id,
            occasion=each.occasion,
            text=each.text,
            due_at=now,
        )
        for reason in reasons().values()
        for each in reason.due(job)
    ]
    before = Notice.objects.filter(job=job).count()
    Notice.objects.bulk_create(due, ignore_conflicts=True)
    return Notice.objects.filter(job=job).count() - before


def notice_see(actor: Person, *, notice_id: UUID) -> None:
    """The person has seen a notice of their own; anybody else's is left as it is."""
    Notice.objects.filter(id=notice_id, person=actor, seen_at__isnull=True).update(
        seen_at=timezone.now()
    )
