"""Writes of tokens, each by the person whose they are."""

from datetime import timedelta

from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.models import ApiToken, Person
from jobs.secrets import digest_of, new_secret

MOST = 50
"""Live tokens that one person may have."""
MINUTE = timedelta(minutes=1)


def token_make(actor: Person, *, name: str, scope: ApiToken.Scope) -> tuple[ApiToken, str]:
    """A token for a program, and its secret, which is told this once."""
    if ApiToken.objects.filter(person=actor, revoked_at=None).count() >= MOST:
        raise ValidationError(f"Nobody has more than {MOST} tokens; revoke one first.")
    secret = new_secret()
    token = ApiToken(
        person=actor,
        name=name.strip(),
        scope=scope,
        digest=digest_of(secret),
        made_at=timezone.now(),
    )
    token.full_clean()
    token.save()
    return token, secret


def token_revoke(actor: Person, *, token: ApiToken) -> ApiToken:
    """Let a token open nothing from now on."""
    if token.person_id != actor.id:
        raise ApiToken.DoesNotExist
    ApiToken.objects.filter(id=token.id, revoked_at=None).update(revoked_at=timezone.now())
    token.refresh_from_db()
    return token


def token_used(secret: str) -> ApiToken | None:
    """The live token of that secret, its use noted; None when there is none."""
    found = ApiToken.objects.select_related("person").filter(digest=digest_of(secret)).first()
    if found is None or found.revoked_at is not None or not found.person.is_active:
        return None
    now = timezone.now()
    if found.used_at is None or now - found.used_at >= MINUTE:
        ApiToken.objects.filter(id=found.id).update(used_at=now)
    return found
