"""How pages ask selectors and services, and tell a reader what was refused."""

import math
from collections.abc import Callable
from typing import Any, TypeVar
from uuid import UUID

from django.core.exceptions import ObjectDoesNotExist, ValidationError
from django.db import IntegrityError, OperationalError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from config.fault_messages import AT_ONCE
from config.faults import not_now
from config.languages import say
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault
from inspections.days.selectors import shop_of
from inspections.services.cover_releases import Held, NotReleased
from inspections.services.houses import AnotherRevision
from inspections.services.inspections import ItemsOpen
from inspections.services.observations import FactsChanged, NotAsDrawn, NothingToPass
from jobs.access import SITE_ROLES, NotAllowed, role_in
from jobs.models import Job, Person, Role, Shop
from jobs.planning.working_days import NeverOpen
from jobs.requests import SignedIn
from pages.refusals import refuse

Found = TypeVar("Found")
Table = dict[str, Any]
REFUSED = (
    AnotherRevision,
    FactsChanged,
    Held,
    HouseFaults,
    ItemsOpen,
    NeverOpen,
    NotAsDrawn,
    NotReleased,
    NothingToPass,
    RulebookFault,
)
"""What services raise, besides ValidationError, where things do not stand as somebody thought."""


def found_or_404(read: Callable[[Person, UUID], Found], person: Person, identity: UUID) -> Found:
    """What the person may see, or 404 as for something that is not there."""
    try:
        return read(person, identity)
    except ObjectDoesNotExist:
        raise Http404 from None


def id_or_404(text: str) -> UUID:
    """The id that a form names, or 404 for what is none."""
    try:
        return UUID(text)
    except ValueError:
        raise Http404 from None


def site_only(person: Person, shop: Shop) -> None:
    """404 for whoever does not work in the shop: a builder sees the cover and no more."""
    if role_in(person, shop) not in SITE_ROLES:
        raise Http404


def office_shop(request: SignedIn) -> Shop:
    """The shop whose office the reader keeps, or 404."""
    return _shop(request, Role.OFFICE)


def site_shop(request: SignedIn) -> Shop:
    """The shop that the reader works in, or 404."""
    return _shop(request, *SITE_ROLES)


def _shop(request: SignedIn, *roles: Role) -> Shop:
    try:
        return shop_of(request.user, *roles)
    except Shop.DoesNotExist:
        raise Http404 from None


def render_at(request: HttpRequest, job: Job, template: str, context: Table) -> HttpResponse:
    """A page about a job, with every time as the clock at the house tells it."""
    with timezone.override(job.time_zone):
        return render(request, template, context)


def render_in(
    request: HttpRequest, shop: Shop | None, template: str, context: Table, status: int = 200
) -> HttpResponse:
    """A page about a shop, or about its reader, with every time as the clock at the shop tells it.

    Without a shop: by that of the first which the reader is in; by UTC for a reader of none.
    """
    mine = shop or _first_shop(request)
    with timezone.override(mine.time_zone if mine else "UTC"):
        return render(request, template, context, status=status)


def _first_shop(request: HttpRequest) -> Shop | None:
    if not request.user.is_authenticated:
        return None
    own = request.user.memberships.select_related("shop").order_by("id").first()
    if own:
        return own.shop
    return None


def attempt(request: HttpRequest, service: Callable[..., Any], **given: Any) -> Any:
    """What a service gives; None when it refused, and the answer says why beside what was typed."""
    try:
        return service(request.user, **given)
    except NotAllowed as refusal:
        refuse(request, str(refusal), status=403)
    except IntegrityError:
        refuse(request, AT_ONCE(), status=409)
    except (ValidationError, *REFUSED) as refusal:
        refuse(request, refusal if isinstance(refusal, ValidationError) else _says(refusal))
    except (OperationalError, OSError) as fault:
        waits = not_now(fault)
        if waits is None:
            raise
        refuse(request, waits[0], status=503)
    return None


def _says(refusal: Exception) -> str:
    """What a refusal says, to its reader."""
    return say(getattr(refusal, "text", str(refusal)))


def to_job(job_id: UUID, place: str) -> HttpResponse:
    """The page of a job, opened at the part of it where something was done."""
    return redirect(f"{reverse('job', args=[job_id])}#{place}")


def measure_of(typed: str) -> float | None:
    """What somebody typed of a tape; what is no number is no measure, and is refused as one."""
    if not typed.strip():
        return None
    try:
        return float(typed)
    except ValueError:
        return math.nan
