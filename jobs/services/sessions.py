"""Writes of sessions: seen, ended by their person, ended with everything else that opens."""

from datetime import datetime
from uuid import UUID

from django.contrib.sessions.models import Session
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from jobs.models import ApiToken, OpenSession, Person


def session_seen(person: Person, *, digest: str, place: str, browser: str, now: datetime) -> None:
    """Note that a session was used, and from where."""
    seen = {"seen_at": now, "place": place[:45], "browser": browser[:200]}
    OpenSession.objects.update_or_create(
        digest=digest,
        defaults=seen | {"person": person},
        create_defaults=seen | {"person": person, "began_at": now},
    )


def sessions_open(person: Person) -> list[OpenSession]:
    """Where the person is signed in now, the one that was used last first."""
    noted = {}
    for each in OpenSession.objects.filter(person=person):
        noted[each.digest] = each
    living = Session.objects.filter(session_key__in=noted, expire_date__gt=timezone.now())
    kept = []
    for key in living.values_list("session_key", flat=True):
        kept.append(noted[key])
    return sorted(kept, key=lambda each: each.seen_at, reverse=True)


@transaction.atomic
def session_end(actor: Person, *, session_id: UUID) -> None:
    """End one of one's own sessions. Raises OpenSession.DoesNotExist for another's."""
    _end(OpenSession.objects.filter(id=OpenSession.objects.get(person=actor, id=session_id).id))


@transaction.atomic
def sessions_end(person: Person, *, but: str = "") -> int:
    """End every session of a person but the one of that digest; how many there were."""
    found = OpenSession.objects.filter(person=person).exclude(digest=but)
    count = found.count()
    _end(found)
    return count


def _end(found: QuerySet[OpenSession]) -> None:
    Session.objects.filter(session_key__in=list(found.values_list("digest", flat=True))).delete()
    found.delete()


@transaction.atomic
def everything_end(person: Person) -> None:
    """End whatever acts for a person now: sessions and tokens."""
    sessions_end(person)
    live = ApiToken.objects.filter(person=person, revoked_at=None)
    live.update(revoked_at=timezone.now())
