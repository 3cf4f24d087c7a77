"""Which sessions are in use: noted to the minute, ended when nobody was there for long.

OWASP ASVS 5.0, 7.3.1 and 7.3.2: an end after inactivity, and one whatever was done. An office is
open on a desk that others pass; a phone is its owner's, locked by itself, and off the network for
days.
"""

from collections.abc import Callable
from datetime import datetime, timedelta

from django.conf import settings
from django.contrib.auth import logout
from django.contrib.auth.signals import user_logged_in
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from config.languages.choice import NOBODY
from config.places import place_of
from config.sessions import kept_key
from jobs.models import OpenSession, Person, Role
from jobs.services.sessions import session_seen

SEEN, BEGAN = "seen", "began"
"""What a session keeps, in seconds since 1970."""
MINUTE = 60
IDLE_OFFICE = timedelta(hours=settings.ENVIRONMENT.studbay_idle_hours)
IDLE_CREW = timedelta(days=settings.ENVIRONMENT.studbay_idle_days_crew)
LONGEST_OFFICE, LONGEST_CREW = timedelta(days=14), timedelta(days=180)


def presence_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Sign out whoever was away for too long; note that the others are here."""

    def answer(request: HttpRequest) -> HttpResponse:
        comes = settings.SESSION_COOKIE_NAME in request.COOKIES
        if comes and not request.path.startswith(NOBODY) and request.user.is_authenticated:
            _look(request, request.user, timezone.now())
        return get_response(request)

    return answer


def _look(request: HttpRequest, person: Person, now: datetime) -> None:
    session, at = request.session, now.timestamp()
    seen = session.get(SEEN)
    if seen is None:  # a session of before
        session[BEGAN] = at
    elif at - seen < MINUTE:
        return
    elif _over(person, at - seen, at - session.get(BEGAN, seen)):
        logout(request)
        return
    _note(request, person, now)


def _over(person: Person, idle: float, lasted: float) -> bool:
    """Whether a session ends: asked of the database only where it could."""
    if idle <= IDLE_OFFICE.total_seconds() and lasted <= LONGEST_OFFICE.total_seconds():
        return False
    if person.memberships.filter(role=Role.OFFICE).exists():
        return True
    return idle > IDLE_CREW.total_seconds() or lasted > LONGEST_CREW.total_seconds()


def _note(request: HttpRequest, person: Person, now: datetime) -> None:
    request.session[SEEN] = now.timestamp()
    if not request.session.session_key:
        request.session.save()
    key = request.session.session_key
    assert key is not None  # it was saved
    session_seen(
        person,
        digest=kept_key(key),
        place=place_of(request),
        browser=request.META.get("HTTP_USER_AGENT", ""),
        now=now,
    )


def signed_in(request: HttpRequest, user: Person, **_: object) -> None:
    """Begin the list's entry of a session."""
    now = timezone.now()
    request.session[BEGAN] = now.timestamp()
    _note(request, user, now)


def fresh_key(request: HttpRequest) -> None:
    """A session has a new key once its holder proved who they are (OWASP ASVS 5.0, 7.2.4)."""
    old = kept_key(request.session.session_key)
    request.session.cycle_key()
    new = kept_key(request.session.session_key)
    OpenSession.objects.filter(digest=old).update(digest=new)


user_logged_in.connect(signed_in, dispatch_uid="pages.account.presence")
