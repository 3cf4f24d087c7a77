"""Writes of shops and of the people in them."""

from django.db import transaction

from jobs.models import Builder, Job, Membership, Person, Role, Shop
from jobs.signals import rules_changed


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
    builder: Builder | None = None,
) -> Person:
    """A person with a role in the shop; a builder's person names the firm."""
    first, _, last = full_name.partition(" ")
    person = Person.objects.create_user(
        username=username, password=password, first_name=first, last_name=last
    )
    Membership.objects.create(shop=shop, person=person, role=role, builder=builder)
    people_changed(shop)
    return person


def people_changed(shop: Shop) -> None:
    """Who is told follows from who is in a shop: the next sweep draws it anew for all its jobs.

    Else whoever left would stay told, and whoever came would not be, of a job where nothing happens
    any more.
    """
    rules_changed.send(sender=Membership, jobs=Job.objects.filter(shop=shop), shop_id=shop.id)
