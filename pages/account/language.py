"""The language and the units that a reader chooses, at the foot of every page."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from config.languages import imperial_units
from config.languages.available import LANGUAGES, UNITS
from config.languages.choice import CODES, UNITS_COOKIE
from jobs.services.people import language_set, units_set
from pages import page_messages as words


@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """Keep what is chosen, in this browser and for whoever is signed in; go back."""
    back = request.POST.get("next", "")
    if not url_has_allowed_host_and_scheme(
        back, {request.get_host()}, require_https=request.is_secure()
    ):
        back = "/"
    response = redirect(back)
    chosen = request.POST.get("language", "")
    if chosen in CODES:
        if request.user.is_authenticated:
            language_set(request.user, language=chosen)
        _keep(response, settings.LANGUAGE_COOKIE_NAME, chosen)
    units = request.POST.get("units", "")
    if units in dict(UNITS):
        if request.user.is_authenticated:
            units_set(request.user, units=units)
        _keep(response, UNITS_COOKIE, units)
    return response


UNIT_NAMES = (("imperial", words.FEET_AND_INCHES()), ("metric", words.MILLIMETRES()))
"""Systems of units, each by the signs that a reader knows it by."""


def _keep(response: HttpResponse, name: str, value: str) -> None:
    """Keep a choice in this browser, for as long as a language is kept."""
    response.set_cookie(
        name,
        value,
        max_age=settings.LANGUAGE_COOKIE_AGE,
        secure=settings.LANGUAGE_COOKIE_SECURE,
        httponly=True,
        samesite=settings.LANGUAGE_COOKIE_SAMESITE,
    )


def languages(_request: HttpRequest) -> dict[str, object]:
    """For the foot of a page: `languages` and `units` with their names, and the units chosen."""
    chosen = "imperial" if imperial_units() else "metric"
    return {"languages": LANGUAGES, "units": UNIT_NAMES, "units_chosen": chosen}
