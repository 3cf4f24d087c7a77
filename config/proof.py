"""Whether somebody showed a moment ago who they are, at sign-in or since (OWASP ASVS 5.0, 7.5)."""

from allauth.account.internal.flows.login import get_authentication_records
from django.conf import settings
from django.http import HttpRequest
from django.utils import timezone

PROVES = ("password", "mfa")
"""What the library calls the ways that show it; a link by mail is none."""


def proven_lately(request: HttpRequest) -> bool:
    """Whether the last proof of this session is within ten minutes."""
    if not request.user.is_authenticated:
        return False
    records = get_authentication_records(request, request.user)
    proofs: list[float] = []
    for each in records:
        if each.get("method") in PROVES:
            proofs.append(each["at"])
    if not proofs:
        return False
    return timezone.now().timestamp() - proofs[-1] < settings.ACCOUNT_REAUTHENTICATION_TIMEOUT
