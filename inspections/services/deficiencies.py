"""Writes to deficiencies between the visit that called them and the one that accepts them."""

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.models import Deficiency
from inspections.services.facts import changing_facts
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person


def deficiency_mend(actor: Person, *, deficiency: Deficiency) -> Deficiency:
    """Record that a deficiency was mended. Only the inspector's acceptance lifts its hold."""
    require_role(actor, deficiency.job.shop, *SITE_ROLES)
    now = timezone.now()
    areas = [deficiency.area_id]
    with changing_facts(
        actor, "deficiency mended", deficiency.job_id, area_ids=areas, now=now
    ) as change:
        fresh = Deficiency.objects.get(id=deficiency.id)
        if fresh.mended_at is not None:
            raise ValidationError("This deficiency is recorded as mended already.")
        fresh.mended_at, fresh.mended_by = now, actor
        fresh.save(update_fields=["mended_at", "mended_by"])
        change.detail = {"deficiency": fresh.id, "what": fresh.what}
    return fresh
