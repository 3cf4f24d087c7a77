"""How often something may be asked, counted by the library's limits."""

from allauth.core.internal import ratelimit
from django.http import HttpRequest

LIMITS = {"mail": "5/15m/key,20/15m/ip", "passkey": "120/m/ip"}


def allowed(request: HttpRequest, action: str, key: str) -> bool:
    """Whether one more is within the limit; it counts."""
    counted = ratelimit.consume(
        request, app="allauth.account", action=action, config=LIMITS, key=key, limit_get=True
    )
    return counted is not None
