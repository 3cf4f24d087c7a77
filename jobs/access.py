"""What a person may do where. A stranger is not told that a thing exists."""

from collections.abc import Sequence

from config.languages import said_later
from config.messages.message import Listed, Text, Value
from jobs import refusal_messages as words
from jobs.models import Membership, Person, Role, Shop
from jobs.prepared_queries import Prepared

SITE_ROLES = (Role.OFFICE, Role.CREW_LEAD, Role.CREW_MEMBER)
WHO_MAY = {
    Role.OFFICE: words.MAY_OFFICE,
    Role.CREW_LEAD: words.MAY_CREW_LEAD,
    Role.CREW_MEMBER: words.MAY_CREW_MEMBER,
    Role.BUILDER: words.MAY_BUILDER,
}


class NotAllowed(Exception):
    """The person may see the thing but not do this to it; the text says who may."""


_ROLE: Prepared[Membership] = Prepared(
    lambda person, shop: Membership.objects.filter(person=person, shop=shop)
)


def role_in(person: Person, shop: Shop) -> Role | None:
    """The person's role in the shop, or None."""
    found = _ROLE(person.id, shop.id)
    if not found:
        return None
    return Role(found[0].role)


def corrects_houses(person: Person, shop: Shop) -> bool:
    """Whether the person corrects facts of a house on site, or tells the office instead."""
    role = role_in(person, shop)
    if shop.office_looks_first:
        return role == Role.OFFICE
    return role in SITE_ROLES


def require_role(person: Person, shop: Shop, *allowed: Role) -> None:
    """Raise NotAllowed unless the person has one of the roles in the shop."""
    if role_in(person, shop) not in allowed:
        raise NotAllowed(said_later(_roles_alone(shop, allowed)))


def _roles_alone(shop: Shop, allowed: Sequence[Role]) -> Text:
    named: list[Value] = []
    for role in allowed:
        named.append(WHO_MAY[role]())
    return words.ROLES_ALONE(roles=Listed(tuple(named), "or"), shop=shop.name, n=len(named))
