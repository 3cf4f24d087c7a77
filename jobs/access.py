"""What a person may do where. A stranger is not told that a thing exists."""

from jobs.models import Membership, Person, Role, Shop
from jobs.prepared_queries import Prepared

SITE_ROLES = (Role.OFFICE, Role.CREW_LEAD, Role.CREW_MEMBER)


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


def require_role(person: Person, shop: Shop, *allowed: Role) -> None:
    """Raise NotAllowed unless the person has one of the roles in the shop."""
    if role_in(person, shop) not in allowed:
        labels = []
        for role in allowed:
            labels.append(role.label)
        names = " or ".join(labels)
        raise NotAllowed(f"only {names} of {shop.name} may do this")
