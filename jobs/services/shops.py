"""Writes of shops and of the people in them."""

from django.db import transaction

from jobs.models import Contractor, Membership, Person, Role, Shop


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
