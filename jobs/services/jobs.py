"""Writes of jobs that concern no area yet."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from jobs.access import SITE_ROLES, require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Authority, Builder, Job, Person, Role, Shop
from jobs.moments import ANY_DAY
from jobs.services.refusal_messages import AUTHORITY_OF_OTHER, BUILDER_OF_OTHER, NOT_OF_SHOP


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
    for name, fault in (("builder", BUILDER_OF_OTHER), ("authority", AUTHORITY_OF_OTHER)):
        if getattr(job, name).shop_id != job.shop_id:
            raise ValidationError({name: [said_later(fault(shop=job.shop.name))]})
    lead = job.crew_lead
    if lead and not lead.memberships.filter(shop=job.shop, role__in=SITE_ROLES).exists():
        stranger = NOT_OF_SHOP(person=str(lead), shop=job.shop.name)
        raise ValidationError({"crew_lead": [said_later(stranger)]})
