"""What a token or an open screen alone does not do: let somebody into the office."""

from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from api.refusal_messages import PROOF_OLD, TOKEN_NO_OFFICE
from config.languages import said_later
from config.proof import proven_lately
from jobs.models import ApiToken, Role


def require_proof(request: Request, role: Role | None = None) -> None:
    """Refuse what changes who may come in: by a token, where it is the office; signed in, unless
    the caller showed a moment ago who they are."""
    if isinstance(request.auth, ApiToken):
        if role == Role.OFFICE:
            raise PermissionDenied(said_later(TOKEN_NO_OFFICE()))
        return
    if not proven_lately(request):
        raise PermissionDenied(said_later(PROOF_OLD()))
