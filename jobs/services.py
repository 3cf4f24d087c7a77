"""Writes to shops, people and jobs. Each is one use, one transaction, the actor first."""

from datetime import date

from django.db import transaction

from jobs.access import require_role
from jobs.models import Authority, Contractor, Job, Membership, Person, Role, Shop


@transaction.atomic
def shop_open(*, name: str, time_zone: str) -> Shop:
    """A new shop. Done by whoever runs the server, so there is no actor yet."""
    shop = Shop(name=name, time_zone=time_zone)
    shop.full_clean()
    shop.save()
    return shop


@transaction.atomic
def person_add(
    *,
    shop: Shop,
    username: str,
    full_name: str,
    role: Role,
    password: str,
    contractor: Contractor | None = None,
) -> Person:
    """A person with a role in the shop; a contractor's person names the firm."""
    first, _, last = full_name.partition(" ")
    person = Person.objects.create_user(
        username=username, password=password, first_name=first, last_name=last
    )
    Membership.objects.create(shop=shop, person=person, role=role, contractor=contractor)
    return person


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
