"""Reads of notices."""

from django.db.models import Q, QuerySet

from jobs.models import Membership, Person
from jobs.selectors import jobs_visible_to
from notifications.models import Notice


def unseen_notices(person: Person) -> QuerySet[Notice]:
    """What the person was told, has not seen and still stands, the latest first."""
    own = Notice.objects.filter(person=person, seen_at__isnull=True, moot_at__isnull=True)
    shops = Membership.objects.filter(person=person).values("shop")
    theirs = Q(job__in=jobs_visible_to(person)) | Q(job__isnull=True, shop__in=shops)
    return own.filter(theirs).select_related("job", "shop")
