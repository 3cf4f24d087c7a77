"""What a session knows of how somebody signed in, for tests."""

from datetime import datetime, timedelta

from django.contrib.sessions.backends.base import SessionBase
from django.http import HttpRequest
from django.test import Client
from django.utils import timezone

from jobs.models import Person

RECORDS, WHOSE = "account_authentication_methods", "account_authentication_methods_user"
"""The library's names for what a session keeps of proofs."""


def note_proof(request: HttpRequest, user: Person, **_: object) -> None:
    """Keep a proof that lasts as long as a test does, unless there is one."""
    if not request.session.get(RECORDS):
        keep_proof(request.session, user, timezone.now() + timedelta(days=400))


def keep_proof(session: SessionBase, user: Person, at: datetime) -> None:
    """Keep a proof of that moment."""
    session[RECORDS] = [{"method": "password", "at": at.timestamp()}]
    session[WHOSE] = str(user.pk)


def forget_proof(client: Client) -> None:
    """Let the proof of a client's session be long ago."""
    session = client.session
    session.pop(RECORDS, None)
    session.save()
