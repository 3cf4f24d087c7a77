"""What a stored message says: to a reader of today, and in English where a sentence is still made
of it. Pure.
"""

from typing import Any

from .message import Value
from .saying import said
from .stored import from_json, is_stored_text


def in_english(stored: Any) -> str:
    """What a stored message says in English, for sentences that are not messages yet."""
    return said(message_of(stored))


def message_of(stored: Any) -> Value:
    """What a stored message says, as a value; a sentence of before as it was written."""
    if is_stored_text(stored):
        return from_json(stored)
    return str(stored)
