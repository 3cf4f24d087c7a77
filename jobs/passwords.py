"""Which passwords are refused beside those that are too short: known ones, and guessable ones.

NIST SP 800-63B, 3.1.1.2; OWASP ASVS 5.0.0, 6.2.4, 6.2.11 and 6.2.12. Nothing is asked of the
characters, and nothing leaves the machine.
"""

import hashlib
from bisect import bisect_left
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from django.core.exceptions import ValidationError

from config.languages import said_later, say
from jobs import refusal_messages as words

BREACHED = Path(__file__).with_name("breached_passwords.bin")
"""The first bytes of the digest of each, in order: 43,000 and more of 12 characters or longer that
were found in breaches. `tests/passwords.py` made it, and says of what."""
WIDTH = 6  # bytes of a digest that are kept: one password in 6,000 million is refused by chance
SHORTEST = 4  # letters of a word that is looked for
LEFT = 8  # characters that have to be left when the words are taken out
WORDS = (
    *("studbay", "password", "passwort", "contrasena", "motdepasse", "welcome", "admin", "office"),
    *("electric", "electrical", "electrician", "electrique", "electrico", "wiring", "breaker"),
    *("contractor", "builder", "roughin", "rough-in", "inspection", "inspector", "drywall"),
    *("crewlead", "foreman", "journeyman", "apprentice", "permit", "switch", "receptacle"),
)
"""Words that stand around whoever chooses here; `docs/security.md` lists them."""


def password_digest(password: str) -> bytes:
    """What is kept of a password that is refused: whatever its letters' case."""
    return hashlib.sha256(password.strip().lower().encode()).digest()[:WIDTH]


@cache
def _breached() -> bytes:
    return BREACHED.read_bytes()


class _Digests:
    """The digests in order, one by its number, without an object for each."""

    def __len__(self) -> int:
        return len(_breached()) // WIDTH

    def __getitem__(self, number: int) -> bytes:
        return _breached()[number * WIDTH : (number + 1) * WIDTH]


class NotBreached:
    """Refuses what was found in a breach."""

    def validate(self, password: str, _user: Any = None) -> None:
        """Raise ValidationError for one that is known."""
        kept, wanted = _Digests(), password_digest(password)
        place = bisect_left(kept, wanted)
        if place < len(kept) and kept[place] == wanted:
            raise ValidationError(said_later(words.PASSWORD_STOLEN()), code="password_breached")

    def get_help_text(self) -> str:
        """Said beside the field."""
        return say(words.PASSWORD_NOT_STOLEN())


class NotOfThisPlace:
    """Refuses what is little more than the name of the site, the trade, the shop or the person."""

    def validate(self, password: str, user: Any = None) -> None:
        """Raise ValidationError when too little is left without those words."""
        left = found = password.lower()
        for word in sorted({*WORDS, *_names(user)}, key=len, reverse=True):
            left = left.replace(word, "")
        if left != found and len(left) < LEFT:
            fault = said_later(words.PASSWORD_OF_PLACE())
            raise ValidationError(fault, code="password_of_this_place")

    def get_help_text(self) -> str:
        """Said beside the field."""
        return say(words.PASSWORD_NOT_OF_PLACE())


def _names(user: Any) -> Iterator[str]:
    """Whatever the person and their shops are called, word by word."""
    if user is None:
        return
    said = [user.username, user.first_name, user.last_name, user.email.partition("@")[0]]
    if not user._state.adding:
        said += user.memberships.values_list("shop__name", flat=True)
    for text in said:
        for word in [text, *text.split()]:
            if len(word) >= SHORTEST:
                yield word.lower()
