"""Which language a request is answered in."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.translation import get_language_from_request

from config.languages.available import LANGUAGES

CODES = tuple(code for code, _ in LANGUAGES)
NOBODY = ("/l/", "/paper/")
"""What a link opens is answered to whoever holds it, so nobody is looked up."""
MACHINES = ("/api/", "/metrics", "/ready", "/healthy")
"""Programs read English, whatever their machine prefers, so that they can rely on it."""


def language_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Answer in the language that the reader chose, or else the one that the browser asks for."""

    def answer(request: HttpRequest) -> HttpResponse:
        with translation.override(language_of(request)):
            response = get_response(request)
            response.headers.setdefault("Content-Language", translation.get_language())
            return response

    return answer


def language_of(request: HttpRequest) -> str:
    """What the reader keeps as a person, then what this browser keeps, then what it prefers."""
    if request.path.startswith(MACHINES):
        return "en"
    chosen = request.COOKIES.get(settings.LANGUAGE_COOKIE_NAME, "")
    signed_in = settings.SESSION_COOKIE_NAME in request.COOKIES
    if signed_in and not request.path.startswith(NOBODY) and request.user.is_authenticated:
        chosen = request.user.language or chosen
    if chosen in CODES:
        return chosen
    return get_language_from_request(request)
