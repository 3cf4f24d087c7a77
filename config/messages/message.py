"""Messages: each is registered once under its id, with its English.

The id is what is kept and compared; the English may change on any day. Catalogues of gettext
have the id as context and the English as the phrase, so that a changed phrase is translated anew
and falls back to English until then. Pure.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from .values import Text, Value

HOLE = re.compile(r"\{(\w+)\}")
ID = re.compile(r"[a-z0-9]+([-.][a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence or a part of one, with holes by name.

    With `one`, the number that fills `count` chooses between `one` and `text`.
    """

    id: str
    text: str
    one: str = ""
    count: str = ""
    holes: frozenset[str] = frozenset()

    def __call__(self, **given: Value) -> Text:
        """This message with what fills its holes. Raises TypeError for a hole too many or few."""
        if given.keys() != self.holes:
            raise TypeError(f"{self.id} takes {sorted(self.holes)}, not {sorted(given)}")
        return Text(self.id, given)


_MESSAGES: dict[str, Message] = {}


def message(id: str, text: str, *, one: str = "", count: str = "n") -> Message:
    """Register a message. Raises ValueError for an id that is taken or is none.

    A part of a sentence is a message too; its id says so by what it is about, never by its words.
    """
    if not ID.fullmatch(id):
        raise ValueError(f"{id!r} is no id of a message: small letters, digits, dots and dashes")
    if id in _MESSAGES:
        raise ValueError(f"two messages are called {id}")
    holes = set(HOLE.findall(text)) | set(HOLE.findall(one))
    if one:
        holes.add(count)
    made = Message(id, text, one, count if one else "", frozenset(holes))
    _MESSAGES[id] = made
    return made


def messages() -> Mapping[str, Message]:
    """Every registered message by id."""
    return MappingProxyType(_MESSAGES)
