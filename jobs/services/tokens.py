"""Writes of tokens, each by the person whose they are."""

from datetime import timedelta

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later
from jobs.models import ApiToken, Person
from jobs.secrets import digest_of, new_secret
from jobs.services import refusal_messages as words

MOST = 50
"""Live tokens that one person may have."""
MINUTE = timedelta(minutes=1)
DAYS = 90
"""So long a token is good where nobody says."""


class TokenExpired(Exception):
    """A token that was good until its last day."""


def token_make(
    actor: Person, *, name: str, scope: ApiToken.Scope, days: int = DAYS
) -> tuple[ApiToken, str]:
    """A token for a program, good for so many days, and its secret, which is shown only once."""
    if not 1 <= days <= ApiToken.MOST_DAYS:
        fault = said_later(words.TOKEN_DAYS(most=ApiToken.MOST_DAYS))
        raise ValidationError({"days": [fault]})
    if ApiToken.objects.filter(person=actor, revoked_at=None).count() >= MOST:
        raise ValidationError(said_later(words.TOKENS_MANY(most=MOST)))
    secret, now = new_secret(), timezone.now()
    token = ApiToken(
        person=actor,
        name=name.strip(),
        scope=scope,
        digest=digest_of(secret),
        made_at=now,
        expires_at=now + timedelta(days=days),
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
    """The live token of that secret, its use noted; None when there is none.

    Raises TokenExpired for one that was good until a day that has passed.
    """
    found = ApiToken.objects.select_related("person").filter(digest=digest_of(secret)).first()
    if found is None or found.revoked_at is not None or not found.person.is_active:
        return None
    now = timezone.now()
    if found.ends_at <= now:
        raise TokenExpired(said_later(words.TOKEN_OVER(day=found.ends_at.date())))
    if found.used_at is None or now - found.used_at >= MINUTE:
        ApiToken.objects.filter(id=found.id).update(used_at=now)
    return found
