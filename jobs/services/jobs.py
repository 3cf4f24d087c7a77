"""Writes of jobs that concern no area yet."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from jobs.access import SITE_ROLES, require_role
from jobs.models import Authority, Builder, Job, Person, Role, Shop
from jobs.moments import ANY_DAY, refuse_outside


@transaction.atomic
def job_open(
    actor: Person,
    *,
    shop: Shop,
    name: str,
    address: str,
    builder: Builder,
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
        builder=builder,
        authority=authority,
        crew_lead=crew_lead,
        drywall_on=drywall_on,
        time_zone=time_zone or shop.time_zone,
    )
    check_of_shop(job)
    job.full_clean()
    refuse_outside(timezone.now(), job.time_zone, drywall_on=(ANY_DAY, drywall_on))
    job.save()
    return job


def check_of_shop(job: Job) -> None:
    """Refuse a builder or authority that is another shop's, or a lead who is not of this one."""
    for name in ("builder", "authority"):
        if getattr(job, name).shop_id != job.shop_id:
            raise ValidationError({name: [f"That {name} is not one of {job.shop}."]})
    lead = job.crew_lead
    if lead and not lead.memberships.filter(shop=job.shop, role__in=SITE_ROLES).exists():
        raise ValidationError({"crew_lead": [f"{lead} is not of {job.shop}."]})
