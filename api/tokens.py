"""Who calls, by a token, and what the token lets be done."""

from rest_framework.authentication import BaseAuthentication
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request

from api.refusal_messages import TOKEN_BAD, TOKEN_OBSERVES, TOKEN_READS
from config.languages import said_later
from jobs.models import ApiToken, Person
from jobs.services.tokens import TokenExpired, token_used

WORD = "Bearer"
WITHIN = {
    ApiToken.Scope.READ: TOKEN_READS,
    ApiToken.Scope.OBSERVE: TOKEN_OBSERVES,
}


class TokenAuthentication(BaseAuthentication):
    """`Authorization: Bearer SECRET`, as RFC 6750 writes it."""

    def authenticate(self, request: Request) -> tuple[Person, ApiToken] | None:
        """The person for whom the token acts; None when the call bears none."""
        word, _, secret = request.headers.get("Authorization", "").partition(" ")
        if word.lower() != WORD.lower():
            return None
        try:
            token = token_used(secret.strip())
        except TokenExpired as expired:
            raise AuthenticationFailed(*expired.args) from None
        if token is None:
            raise AuthenticationFailed(said_later(TOKEN_BAD()))
        return token.person, token

    def authenticate_header(self, _request: Request) -> str:
        """What a call without a token is told."""
        return WORD


class WithinScope(BasePermission):
    """A token does what its scope says; somebody signed in, whatever they may."""

    def has_permission(self, request: Request, view: object) -> bool:
        """Whether this call is within the scope."""
        token = request.auth
        if not isinstance(token, ApiToken) or request.method in SAFE_METHODS:
            return True
        allowed = {ApiToken.Scope.WRITE}
        if getattr(view, "observes", False):
            allowed.add(ApiToken.Scope.OBSERVE)
        if token.scope in allowed:
            return True
        self.message = said_later(WITHIN[ApiToken.Scope(token.scope)]())
        return False
