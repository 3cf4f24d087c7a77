"""An authority's reference belongs to one job."""

from django.core.exceptions import ValidationError

from inspections.models import Acceptance, CoverRelease
from jobs.models import Job


def refuse_used_elsewhere(job: Job, reference: str) -> None:
    """Raise ValidationError for a reference that is empty or was used on another of its jobs."""
    if not reference.strip():
        raise ValidationError("Give the authority's reference.")
    others = {"area__job__shop": job.shop_id, "reference": reference}
    for kind in (Acceptance, CoverRelease):
        used = kind.objects.filter(**others).exclude(area__job=job).select_related("area__job")
        if first := used.first():
            raise ValidationError(
                f"The reference {reference} was used on {first.area.job}; look at it again."
            )
