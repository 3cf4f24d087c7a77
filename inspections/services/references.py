"""An authority's reference belongs to one job."""

from django.core.exceptions import ValidationError

from config.languages import said_later
from inspections.models import Acceptance, CoverRelease
from inspections.services import refusal_messages as words
from jobs.models import Job


def refuse_used_elsewhere(job: Job, reference: str) -> None:
    """Raise ValidationError for a reference that is empty or was used on another of its jobs."""
    if not reference.strip():
        raise ValidationError(said_later(words.NO_REFERENCE()))
    others = {"area__job__shop": job.shop_id, "reference": reference}
    for kind in (Acceptance, CoverRelease):
        used = kind.objects.filter(**others).exclude(area__job=job).select_related("area__job")
        if first := used.first():
            used_on = words.REFERENCE_USED(reference=reference, job=str(first.area.job))
            raise ValidationError(said_later(used_on))
