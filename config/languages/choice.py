"""Which language a request is answered in."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.translation import get_language_from_request

from config.languages import measured_in
from config.languages.available import LANGUAGES

CODES = tuple(code for code, _ in LANGUAGES)
UNITS_COOKIE = "studbay_units"
"""The units that this browser keeps for whoever is not signed in."""
NOBODY = ("/l/", "/paper/")
"""What a link opens is answered to whoever holds it, so nobody is looked up."""
MACHINES = ("/api/", "/metrics", "/ready", "/healthy")
"""Programs read English, whatever their machine prefers, so that they can rely on it."""


def language_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Answer in the language that the reader chose, or else the one that the browser asks for."""

    def answer(request: HttpRequest) -> HttpResponse:
        with translation.override(language_of(request)), measured_in(imperial_for(request)):
            response = get_response(request)
            response.headers.setdefault("Content-Language", translation.get_language())
            return response

    return answer


def imperial_for(request: HttpRequest) -> bool:
    """Whether the reader measures in feet and inches: by the person, then by this browser."""
    chosen = request.COOKIES.get(UNITS_COOKIE, "")
    return (_wish(request, "units") or chosen) != "metric"


def _wish(request: HttpRequest, name: str) -> str:
    """The wish that the person signed in has kept; empty where no session is read."""
    if request.path.startswith((*NOBODY, *MACHINES)):
        return ""
    if settings.SESSION_COOKIE_NAME not in request.COOKIES:
        return ""
    return str(getattr(request.user, name, ""))


def language_of(request: HttpRequest) -> str:
    """What the reader keeps as a person, then what this browser keeps, then what it prefers."""
    if request.path.startswith(MACHINES):
        return "en"
    chosen = request.COOKIES.get(settings.LANGUAGE_COOKIE_NAME, "")
    chosen = _wish(request, "language") or chosen
    if chosen in CODES:
        return chosen
    return get_language_from_request(request)
