"""Writes of what a job is: where, for whom, under which authority, led by whom, covered when."""

from typing import Any

from django.db import transaction
from django.utils import timezone

from inspections.services.facts import changing_facts, lock_job
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Job, Person, Role
from jobs.moments import ANY_DAY
from jobs.services.jobs import check_of_shop

CHANGEABLE = ("name", "address", "builder", "authority", "crew_lead", "drywall_on", "time_zone")


def job_change(actor: Person, *, job: Job, **given: Any) -> Job:
    """Change some of what a job is; its record keeps what it was. Nothing changed: no entry.

    Raises ValidationError by field, with nothing written, when a value will not do.
    """
    require_role(actor, job.shop, Role.OFFICE)
    if strange := set(given) - set(CHANGEABLE):
        raise TypeError(f"not to be changed: {', '.join(sorted(strange))}")
    with transaction.atomic():
        fresh = lock_job(job.id)
        before = {}
        for name in given:
            before[name] = getattr(fresh, name)
        changed = {}
        for name, value in given.items():
            if before[name] != value:
                changed[name] = value
        if not changed:
            return fresh
        with changing_facts(actor, "job changed", job.id) as change:
            for name, value in changed.items():
                setattr(fresh, name, value)
                change.before[name], change.detail[name] = _told(before[name]), _told(value)
            check_of_shop(fresh)
            fresh.full_clean()
            drywall_on = (ANY_DAY, changed.get("drywall_on"))
            refuse_outside(timezone.now(), fresh.time_zone, drywall_on=drywall_on)
            fresh.save(update_fields=list(changed))
            for area in change.areas:
                area.job = fresh  # its holds follow from the authority and the clock it has now
    return fresh


def _told(value: Any) -> str | None:
    if value is None:
        return None
    return str(value)
