"""What every job has from its first moment, and when it is due again."""

from django.db.models import QuerySet
from django.db.models.signals import post_save
from django.dispatch import receiver
from django.utils import timezone

from inspections.models import JobStanding
from jobs.models import Job
from jobs.signals import rules_changed


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
    list(due.order_by("job").select_for_update(no_key=True).values_list("job", flat=True))
    due.update(next_at=timezone.now())
