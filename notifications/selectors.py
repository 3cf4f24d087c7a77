"""Reads of notices."""

from django.db.models import QuerySet

from jobs.models import Person
from jobs.selectors import jobs_visible_to
from notifications.models import Notice


def unseen_notices(person: Person) -> QuerySet[Notice]:
    """What the person was told and has not seen, the latest first, of jobs still theirs."""
    own = Notice.objects.filter(person=person, seen_at__isnull=True)
    return own.filter(job__in=jobs_visible_to(person)).select_related("job")
