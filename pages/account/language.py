"""The language that a reader chooses, at the foot of every page."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from config.languages.available import LANGUAGES
from config.languages.choice import CODES
from jobs.services.people import language_set


@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """Keep the language chosen, in this browser and for whoever is signed in; go back."""
    chosen, back = request.POST.get("language", ""), request.POST.get("next", "")
    if not url_has_allowed_host_and_scheme(
        back, {request.get_host()}, require_https=request.is_secure()
    ):
        back = "/"
    response = redirect(back)
    if chosen in CODES:
        if request.user.is_authenticated:
            language_set(request.user, language=chosen)
        response.set_cookie(
            settings.LANGUAGE_COOKIE_NAME,
            chosen,
            max_age=settings.LANGUAGE_COOKIE_AGE,
            secure=settings.LANGUAGE_COOKIE_SECURE,
            httponly=True,
            samesite=settings.LANGUAGE_COOKIE_SAMESITE,
        )
    return response


def languages(_request: HttpRequest) -> dict[str, object]:
    """`languages`: codes and names for the foot of a page."""
    return {"languages": LANGUAGES}
