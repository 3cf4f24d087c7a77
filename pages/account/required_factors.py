"""Where the server requires more than a password: whoever has no more adds it before anything else.

OWASP ASVS 5.0, 6.3.3. A passkey is two factors by itself: the device, and what unlocks it.
"""

from collections.abc import Callable

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect

from config.languages import say
from config.languages.choice import NOBODY
from jobs.services.factors import passkeys_of, phone_on
from pages.account import account_messages as words

OPEN = (
    *("/account/", "/second-factor/", "/sign-in/", "/sign-out/", "/language/", "/join/", "/back/"),
    *("/reset/", "/mail/", "/stop/", "/seen/", "/calendars/", "/healthy", "/ready", "/metrics"),
    *("/.well-known/", *NOBODY),
)
"""Where a second factor is added, and what opens without an account."""


def required_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Lead whoever has only a password to where a second factor is added."""

    def answer(request: HttpRequest) -> HttpResponse:
        if settings.ENVIRONMENT.studbay_second_factor != "required" or not _lacks(request):
            return get_response(request)
        if request.path.startswith("/api/"):
            detail = say(words.FACTOR_REQUIRED())
            problem = {"type": "about:blank", "title": "Forbidden", "status": 403, "detail": detail}
            return JsonResponse(problem, status=403, content_type="application/problem+json")
        messages.warning(request, say(words.FACTOR_REQUIRED()))
        return redirect("account")

    return answer


def _lacks(request: HttpRequest) -> bool:
    """Whether somebody is signed in who has no more than a password, and asks for anything else."""
    if request.path.startswith(OPEN) or settings.SESSION_COOKIE_NAME not in request.COOKIES:
        return False
    if not request.user.is_authenticated:
        return False
    return phone_on(request.user) is None and not passkeys_of(request.user).exists()
