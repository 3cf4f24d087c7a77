"""Where a reader may go from every page, by role."""

from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from config.messages.message import Text
from jobs.access import SITE_ROLES
from jobs.models import Membership, Person, Role
from pages import page_messages as words

OFFICE = (
    ("today", words.TODAY()),
    ("plans", words.PLANS()),
    ("crews", words.CREWS()),
    ("rulebooks", words.RULEBOOKS()),
    ("figures", words.FIGURES()),
    ("people", words.PEOPLE()),
    ("authorities", words.AUTHORITIES()),
    ("notice-office", words.NOTIFICATIONS()),
)
SITE = (("days", words.DAY_LISTS()), ("walks", words.WALKS()))
EVERYBODY = (("wishes", words.MY_NOTIFICATIONS()),)


def places(request: HttpRequest) -> dict[str, object]:
    """`places`: addresses and words for the strip of a page, asked only when it is drawn."""
    return {"places": SimpleLazyObject(lambda: places_of(request.user))}


def places_of(person: Person | AnonymousUser) -> list[tuple[str, Text]]:
    """Addresses and words of where somebody who signed in may go."""
    roles: set[str] = set()
    if isinstance(person, Person):
        roles |= set(Membership.objects.filter(person=person).values_list("role", flat=True))
    office = ()
    if Role.OFFICE in roles:
        office = OFFICE
    site = ()
    if roles & set(SITE_ROLES):
        site = SITE
    return [("jobs", words.JOBS()), *office, *site, *EVERYBODY]
