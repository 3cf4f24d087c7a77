"""What faces say of the areas of a job: the copies that are kept, by their age."""

from datetime import datetime

from django.utils import timezone

from inspections.standing.age import Age, Sign, age_of, sign_at
from jobs.models import Area, Job


def job_age(job: Job, now: datetime | None = None) -> Age:
    """How old what is kept of a job is."""
    return age_of(job.standing, now or timezone.now())


def area_sign(area: Area, now: datetime | None = None) -> Sign:
    """What may be said of an area now; its job and both standings are read with it."""
    standing = getattr(area, "standing", None)
    return sign_at(standing is not None and standing.released, job_age(area.job, now))
