"""How many requests a minute the pages take, by person, else by place: against crawlers and loops.

The API counts its own (`api/throttle.py`). What cannot be counted is not refused for it. Files of
the site never come here.
"""

from collections.abc import Callable

from django.conf import settings
from django.core.cache import cache
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from redis.exceptions import RedisError

from config.fault_messages import TOO_OFTEN
from config.languages import say
from config.languages.choice import NOBODY
from config.places import place_of

MINUTE = 60  # seconds
UNCOUNTED = ("/api/", "/healthy", "/ready", "/metrics")


def limit_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Put off whoever asks more often than STUDBAY_CALLS_A_MINUTE."""

    def answer(request: HttpRequest) -> HttpResponse:
        if request.path.startswith(UNCOUNTED) or _within(request):
            return get_response(request)
        kind = "text/plain; charset=utf-8"
        told = HttpResponse(say(TOO_OFTEN()), status=429, content_type=kind)
        told["Retry-After"] = str(MINUTE)
        return told

    return answer


def _within(request: HttpRequest) -> bool:
    """Whether this one is within the rate; each minute is counted by itself."""
    key = f"pages-{_whose(request)}-{int(timezone.now().timestamp() // MINUTE)}"
    try:
        cache.add(key, 0, 2 * MINUTE)
        return cache.incr(key) <= settings.ENVIRONMENT.studbay_calls_a_minute
    except (RedisError, ValueError):  # ValueError: it went between the two
        return True


def _whose(request: HttpRequest) -> str:
    """The person, where the session names one; else where the request comes from."""
    place = f"place-{place_of(request)}"
    if request.path.startswith(NOBODY) or settings.SESSION_COOKIE_NAME not in request.COOKIES:
        return place
    try:
        signed_in = request.user.is_authenticated
    except DatabaseError:  # the view then says that the database is out of reach
        return place
    if signed_in:
        return f"person-{request.user.pk}"
    return place
