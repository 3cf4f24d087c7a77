"""How many calls a minute, by token or by person, told in headers of each answer."""

from typing import TYPE_CHECKING, Any

from redis.exceptions import RedisError
from rest_framework.request import Request
from rest_framework.throttling import SimpleRateThrottle

from jobs.models import ApiToken

if TYPE_CHECKING:
    from rest_framework.views import APIView  # which reads the settings that name this module

RATE = "rate"
"""Where a call keeps what its answer tells of the rate."""


class PerToken(SimpleRateThrottle):
    """Calls of one token, else of one signed-in person, in a sliding window."""

    scope = "token"
    num_requests: int
    duration: int

    def get_cache_key(self, request: Request, _view: object) -> str | None:
        """Whose calls are counted together."""
        if isinstance(request.auth, ApiToken):
            return f"api-token-{request.auth.id}"
        if request.user.is_authenticated:
            return f"api-person-{request.user.pk}"
        return None

    def allow_request(self, request: Request, view: "APIView") -> bool:
        """Whether this one is within the rate; the count goes with the answer."""
        setattr(request, RATE, {})
        try:
            allowed = super().allow_request(request, view)
        except RedisError:  # calls that cannot be counted are not refused for it
            return True
        if getattr(self, "key", None):
            setattr(request, RATE, self._told())
        return allowed

    def _told(self) -> dict[str, Any]:
        oldest = self.now
        if self.history:
            oldest = self.history[-1]
        return {
            "RateLimit-Limit": self.num_requests,
            "RateLimit-Remaining": max(0, self.num_requests - len(self.history)),
            "RateLimit-Reset": max(0, round(oldest + self.duration - self.now)),
        }
