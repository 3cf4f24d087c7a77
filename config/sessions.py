"""Sessions in the database, found by a query that is put together once a process."""

from typing import Any

from django.contrib.sessions.backends import db
from django.utils import timezone

from config.sealed_sessions import SealedData
from jobs.prepared import Prepared


def _living(key: str, now: Any) -> Any:
    sessions = SessionStore.get_model_class().objects
    return sessions.filter(session_key=key, expire_date__gt=now)


_LIVING: Prepared[Any] = Prepared(_living)


class SessionStore(SealedData, db.SessionStore):
    """As Django's own, session for session."""

    def _get_session_from_db(self) -> Any:
        found = _LIVING(self.session_key, timezone.now())
        if found:
            return found[0]
        self._session_key = None
        return None
