"""How pages ask selectors and services, and tell a reader what was refused."""

from collections.abc import Callable
from typing import Any, TypeVar
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import ObjectDoesNotExist, ValidationError
from django.http import Http404, HttpRequest

from inspections.services import Held, ItemsOpen, NotCleared, NothingToPass
from jobs.access import NotAllowed
from jobs.models import Person

Found = TypeVar("Found")
REFUSED = (Held, ItemsOpen, NotCleared, NothingToPass, NotAllowed)


def found_or_404(read: Callable[[Person, UUID], Found], person: Person, identity: UUID) -> Found:
    """What the person may see, or 404 as for something that is not there."""
    try:
        return read(person, identity)
    except ObjectDoesNotExist:
        raise Http404 from None


def attempt(request: HttpRequest, service: Callable[..., Any], **given: Any) -> None:
    """Call a service; say on the next page why it refused."""
    try:
        service(request.user, **given)
    except ValidationError as refusal:
        messages.error(request, " ".join(refusal.messages))
    except REFUSED as refusal:
        messages.error(request, str(refusal))
