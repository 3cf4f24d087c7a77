"""Where a reader may go from every page, by role."""

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from jobs.access import SITE_ROLES
from jobs.models import Role

OFFICE = (
    ("today", "Today"),
    ("plans", "Plan"),
    ("crews", "Crews"),
    ("rulebooks", "Rulebooks"),
    ("figures", "Figures"),
    ("people", "People"),
    ("authorities", "Authorities"),
    ("notice-office", "Telling"),
)
SITE = (("days", "The day"), ("walks", "Walk"))
EVERYBODY = (("wishes", "How I am told"),)


def places(request: HttpRequest) -> dict[str, object]:
    """`places`: addresses and words for the strip of a page, asked only when it is drawn."""
    return {"places": SimpleLazyObject(lambda: _places(request))}


def _places(request: HttpRequest) -> list[tuple[str, str]]:
    roles = set(request.user.memberships.values_list("role", flat=True))
    office = OFFICE if Role.OFFICE in roles else ()
    site = SITE if roles & set(SITE_ROLES) else ()
    return [("jobs", "Jobs"), *office, *site, *EVERYBODY]
