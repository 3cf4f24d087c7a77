"""What every job has from its first moment, and when it is due again."""

from datetime import datetime

from django.db.models import Q, QuerySet
from django.db.models.signals import post_save
from django.dispatch import receiver
from django.utils import timezone

from inspections.models import JobStanding, Link
from jobs.models import Job, Person, Shop
from jobs.signals import person_left, rules_changed


@receiver(post_save, sender=Job, dispatch_uid="a job has a standing")
def give_standing(*, instance: Job, created: bool, **_: object) -> None:
    """A new job stands at its first stage, with nothing recorded; the sweep looks at it once."""
    if created:
        # By its id: an object that keeps its first standing would be shown as it was then.
        JobStanding.objects.create(job_id=instance.id, next_at=timezone.now())


@receiver(rules_changed, dispatch_uid="jobs are due when rules change")
def make_due(*, jobs: QuerySet[Job], **_: object) -> None:
    """The next sweep draws these jobs' conclusions anew. Locked in order of job, as it does."""
    due = JobStanding.objects.filter(job__in=jobs)
    list(due.order_by("job_id").select_for_update(no_key=True).values_list("job", flat=True))
    due.update(next_at=timezone.now())


@receiver(person_left, dispatch_uid="links for whoever left open nothing")
def end_links(*, person: Person, shop: Shop, at: datetime, **_: object) -> None:
    """Withdraw the links to covers that were made for the person, by name.

    Those for others stay, whoever made them: their readers have them in hand.
    """
    named = Q(for_whom__iexact=person.username)
    if name := person.get_full_name():
        named |= Q(for_whom__iexact=name)
    links = Link.objects.filter(named, job__shop=shop, kind=Link.Kind.COVER, withdrawn_at=None)
    links.update(withdrawn_at=at)
