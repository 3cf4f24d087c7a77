"""What nobody should read in a log: secrets of addresses, headers and settings, taken out."""

import re
from collections.abc import Iterable
from urllib.parse import quote

from django.conf import settings

GONE = "…"
OPENERS = ("back", "calendars", "join", "l", "mail", "paper", "reset", "seen", "stop")
"""Addresses that open something to whoever has them begin so; the secret follows."""
SHORTEST = 5  # characters; a shorter value is found in any text
MARKS = tuple(
    (re.compile(mark, re.IGNORECASE), instead)
    for mark, instead in (
        (r"(\b[\w+.-]+://[^/\s:@]*:)[^/\s@]+@", rf"\1{GONE}@"),
        (rf"(/(?:{'|'.join(OPENERS)})/)[^/\s?#'\"<>]+", rf"\1{GONE}"),
        (r"\b(bearer|basic)\s+[\w.~+/=-]{6,}", rf"\1 {GONE}"),
        (r"\b((?:sessionid|csrf\w+)['\"]?\s*[=:]\s*['\"]?)[\w-]+", rf"\1{GONE}"),
        (r"\bwhsec_[\w+/=-]+", f"whsec_{GONE}"),
    )
)
"""What a password in a URL, an address that opens something, a header, a cookie and a signing
secret look like."""


UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


def one_line(text: str) -> str:
    r"""A text in which nothing ends a line or hides: each such character as `\\n` writes it."""
    return UNSEEN.sub(lambda found: found[0].encode("unicode_escape").decode(), text)


def redacted(text: str) -> str:
    """The text without secrets, each replaced by an ellipsis."""
    for value in _known(settings.ENVIRONMENT.secrets()):
        text = text.replace(value, GONE)
    for mark, instead in MARKS:
        text = mark.sub(instead, text)
    return text


def _known(values: Iterable[str]) -> list[str]:
    """Values to look for, the longest first, as they are and as addresses write them."""
    secrets = set()
    for each in values:
        if len(each) >= SHORTEST:
            secrets.add(each)
    quotes = set()
    for each in secrets:
        quotes.add(quote(each, safe=""))
    return sorted(secrets | quotes, key=len, reverse=True)
