"""What every job has from its first moment."""

from django.db.models.signals import post_save
from django.dispatch import receiver

from inspections.models import JobStanding
from jobs.models import Job


@receiver(post_save, sender=Job, dispatch_uid="a job has a standing")
def give_standing(*, instance: Job, created: bool, **_: object) -> None:
    """A new job stands at its first stage, with nothing recorded."""
    if created:
        JobStanding.objects.create(job=instance)
