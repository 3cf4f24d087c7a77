"""Writes to shops, people and jobs. Each is one use, one transaction, the actor first."""

import tomllib
from datetime import date, time
from pathlib import Path
from typing import Any

from django.db import transaction

from jobs.access import require_role
from jobs.models import Authority, Contractor, Job, Membership, Person, Role, Shop
from jobs.signals import rules_changed


@transaction.atomic
def shop_open(*, name: str, time_zone: str) -> Shop:
    """A new shop. Done by whoever runs the server, so there is no actor yet."""
    shop = Shop(name=name, time_zone=time_zone)
    shop.full_clean()
    shop.save()
    return shop


TEMPLATES = Path(__file__).parent / "authorities" / "templates.toml"


def authority_templates() -> dict[str, dict[str, Any]]:
    """What public authorities have published, by template id, each with its source."""
    return {each["id"]: each for each in tomllib.loads(TEMPLATES.read_text())["template"]}


@transaction.atomic
def authority_add(*, shop: Shop, name: str, template: str = "", **rules: Any) -> Authority:
    """An authority of the shop, from a template or from rules given, to be edited later."""
    given: dict[str, Any] = {}
    if template:
        given = authority_templates()[template]
    known = {field.name for field in Authority._meta.get_fields()} - {"id", "shop", "name"}
    chosen = {key: value for key, value in (given | rules).items() if key in known}
    for hour in ("cut_off", "from_hour", "to_hour"):
        if isinstance(chosen.get(hour), str):
            chosen[hour] = time.fromisoformat(chosen[hour])
    authority = Authority(shop=shop, name=name, **chosen)
    authority.full_clean()
    authority.save()
    return authority


@transaction.atomic
def authority_change(actor: Person, *, authority: Authority, **rules: Any) -> Authority:
    """Edit what an authority asks. The sweep draws anew what follows for its jobs."""
    require_role(actor, authority.shop, Role.OFFICE)
    for name, value in rules.items():
        setattr(authority, name, value)
    authority.full_clean()
    authority.save()
    rules_changed.send(sender=Authority, jobs=authority.jobs.all())
    return authority


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
