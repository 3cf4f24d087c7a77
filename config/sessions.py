"""Sessions in the database, under a digest of their key.

The key is in the cookie alone: whoever reads the database, a backup or a log of statements opens no
session with what stands there (OWASP ASVS 5.0, 7.2.1 and 13.3).
"""

from typing import Any, overload

from asgiref.sync import sync_to_async
from django.contrib.sessions.backends import db
from django.utils import timezone

from config.sealed_sessions import SealedData
from jobs.prepared_queries import Prepared
from jobs.secrets import digest_of

LENGTH = 40
"""Of the column that Django made for keys: it holds 160 bits of the digest."""


@overload
def kept_key(key: str) -> str: ...
@overload
def kept_key(key: None) -> None: ...
@overload
def kept_key(key: str | None) -> str | None: ...
def kept_key(key: str | None) -> str | None:
    """What stands in the database of a session's key."""
    if key is None:
        return None
    return digest_of(key)[:LENGTH]


def _kept(key: str) -> Any:
    return SessionStore.get_model_class().objects.filter(session_key=key)


_KEPT: Prepared[Any] = Prepared(_kept)


class SessionStore(SealedData, db.SessionStore):
    """As Django's own, session for session, but for what stands of its key in the database."""

    def _get_session_from_db(self) -> Any:
        for found in _KEPT(kept_key(self.session_key)):
            if found.expire_date > timezone.now():
                return found
        self._session_key = None
        return None

    def exists(self, session_key: str | None) -> bool:
        """Whether a session of that key is kept."""
        key = kept_key(session_key)
        return key is not None and super().exists(key)

    def create_model_instance(self, data: dict[str, Any]) -> Any:
        """The row of this session."""
        row = super().create_model_instance(data)
        row.session_key = kept_key(row.session_key)
        return row

    def delete(self, session_key: str | None = None) -> None:
        """End a session, this one if none is named."""
        key = session_key or self.session_key
        if key is not None:
            super().delete(kept_key(key))

    # What Django asks of a session in an event loop goes the same way.

    async def _aget_session_from_db(self) -> Any:
        return await sync_to_async(self._get_session_from_db)()

    async def aexists(self, session_key: str | None) -> bool:
        """As `exists`."""
        return await sync_to_async(self.exists)(session_key)

    async def acreate_model_instance(self, data: dict[str, Any]) -> Any:
        """As `create_model_instance`."""
        return await sync_to_async(self.create_model_instance)(data)

    async def adelete(self, session_key: str | None = None) -> None:
        """As `delete`."""
        await sync_to_async(self.delete)(session_key)
