"""Writes of jobs that concern no area yet."""

from datetime import date

from django.db import transaction

from jobs.access import require_role
from jobs.models import Authority, Contractor, Job, Person, Role, Shop


@transaction.atomic
def job_open(
    actor: Person,
    *,
    shop: Shop,
    name: str,
    address: str,
    contractor: Contractor,
    authority: Authority,
    crew_lead: Person | None = None,
    drywall_on: date | None = None,
    time_zone: str = "",
) -> Job:
    """A new job of the shop, in the shop's own time zone unless another is given."""
    require_role(actor, shop, Role.OFFICE)
    job = Job(
        shop=shop,
        name=name,
        address=address,
        contractor=contractor,
        authority=authority,
        crew_lead=crew_lead,
        drywall_on=drywall_on,
        time_zone=time_zone or shop.time_zone,
    )
    job.full_clean()
    job.save()
    return job
