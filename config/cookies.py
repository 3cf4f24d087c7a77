"""Names of cookies: by HTTPS with a prefix that browsers hold to what it says (RFC 6265bis).

`__Host-` is taken from this very host alone, over HTTPS, for every path: no other name of the same
domain can set such a cookie or be sent it.
"""

from typing import Any

from django.conf import settings
from django.contrib.messages.storage.cookie import CookieStorage
from django.contrib.messages.storage.fallback import FallbackStorage
from django.contrib.messages.storage.session import SessionStorage

HOST = "__Host-"


def cookie_name(name: str, *, https: bool) -> str:
    """The name of a cookie; without HTTPS browsers take no prefix."""
    if https:
        return HOST + name
    return name


class _Cookie(CookieStorage):
    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self.cookie_name = cookie_name("messages", https=settings.SESSION_COOKIE_SECURE)


class MessageStorage(FallbackStorage):
    """What the next page says, in a cookie; in the session where a cookie is too small."""

    storage_classes = (_Cookie, SessionStorage)
