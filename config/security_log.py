"""What happened at the doors: who came in, who was refused, and by which limit; a line each.

The lines go the way of every other line, whatever STUDBAY_LOG_LEVEL says. `docs/security.md` lists
the events; a test holds that list. No password, code, secret or body of a request is ever told.
"""

import logging
from collections.abc import Callable
from typing import Any

from django.contrib.auth.signals import user_logged_in, user_logged_out, user_login_failed
from django.http import HttpRequest, HttpResponse
from django.utils.crypto import salted_hmac

from config.observe import request_id
from config.places import place_of
from config.redact import one_line

log = logging.getLogger("studbay.security")

EVENTS = {
    "came in": "somebody signed in",
    "went out": "somebody signed out",
    "not let in": "a name and a password, a code or a passkey that do not go together",
    "not signed in": "401: no account, or a token that opens nothing",
    "refused": "403: somebody who may not, or a form without its token",
    "not there": "404 for somebody with an account: not there, or not theirs",
    "too large": "413: a body beyond what is taken",
    "not read": "400 and 422: what was sent does not have the required form",
    "not now": "409: what contradicts a recorded fact, or comes before what must come first",
    "put off": "429: more calls or tries than the limit",
}
"""Each event by its name, and what it means."""
OF_ANSWERS = {
    400: "not read",
    401: "not signed in",
    403: "refused",
    404: "not there",
    409: "not now",
    413: "too large",
    422: "not read",
    429: "put off",
}
LONGEST = 200


def tell(event: str, request: HttpRequest | None, **more: Any) -> None:
    """Log an event with who, from where and at which view."""
    told: dict[str, Any] = {"event": event}
    if request is not None:
        told |= _of(request)
    if request_id.get():
        told["request"] = request_id.get()
    for name, value in more.items():
        if value:
            told[name] = one_line(str(value))[:LONGEST]
    words = " ".join(f"{name}={value!r}" for name, value in told.items())
    log.info("door: %s", words, extra={"door": told})


def _of(request: HttpRequest) -> dict[str, Any]:
    found = {"method": request.method, "from": place_of(request)}
    if match := request.resolver_match:
        found["view"] = match.view_name or match.route
    if person := _person(request):
        found["who"] = str(person.pk)
    known: dict[str, Any] = {}
    for name, value in found.items():
        if value:
            known[name] = value
    return known


def _person(request: HttpRequest) -> Any:
    """Who asks, where that is known already: a log asks no database."""
    person = request.__dict__.get("_cached_user") or request.__dict__.get("user")
    wrapped = getattr(person, "_wrapped", person)
    if getattr(wrapped, "is_authenticated", False):
        return wrapped
    return None


def door_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Log each refusal. What is nowhere is worth a line only where somebody has an account."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        event = OF_ANSWERS.get(response.status_code)
        if event and (event != "not there" or _person(request)):
            tell(event, request, status=response.status_code)
        return response

    return answer


def listen() -> None:
    """Hear of people who come and go."""
    user_logged_in.connect(_came_in, dispatch_uid="door came in")
    user_logged_out.connect(_went_out, dispatch_uid="door went out")
    user_login_failed.connect(_not_let_in, dispatch_uid="door not let in")


def _came_in(request: HttpRequest | None = None, user: Any = None, **_: Any) -> None:
    tell("came in", request, who=user.pk)


def _went_out(request: HttpRequest | None = None, user: Any = None, **_: Any) -> None:
    if user is not None:
        tell("went out", request, who=user.pk)


def _not_let_in(
    request: HttpRequest | None = None, credentials: dict[str, Any] | None = None, **_: Any
) -> None:
    """People type passwords where their name goes: a digest tells tries of one name apart."""
    name = str((credentials or {}).get("username", ""))
    tell("not let in", request, name=salted_hmac("door", name).hexdigest()[:12] if name else "")
