"""Sessions whose content nobody reads who has the database alone.

A session holds what was said once and is to be shown on the next page, such as the address of an
invitation that no cookie had room for.
"""

import logging
from typing import Any

from django.contrib.sessions.backends.base import SessionBase

from config.sealing import SealFault, is_sealed, seal, unseal

log = logging.getLogger(__name__)
OF = "django_session.session_data"


class SealedData(SessionBase):
    """Signed as Django signs it, then sealed. One that was written before is read as it is."""

    def encode(self, session_dict: dict[str, Any]) -> str:
        """What the database has of a session."""
        return seal(super().encode(session_dict), of=OF)

    def decode(self, session_data: bytes | str) -> dict[str, Any]:
        """What a session holds; nothing when its key is gone, and whoever has it signs in again."""
        if isinstance(session_data, bytes) or not is_sealed(session_data):
            return super().decode(session_data)
        try:
            return super().decode(unseal(session_data, of=OF))
        except SealFault as fault:
            log.warning("%s", fault)
            return {}
