"""Links in messages that need no sign-in. Each opens one thing, signed with the site's key."""

from functools import cache
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core import signing
from django.urls import reverse

from config.messages.message import Text
from config.messages.saying import said
from notifications.messages.mail import LINK_BROKEN, LINK_KIND_GONE, LINK_OLD
from notifications.models import NoticeKind

MONTH = 31 * 24 * 3600  # seconds; nobody answers an older message


class BadLink(Exception):
    """The link is not one of ours, was altered, or is too old."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


@cache
def _path(name: str) -> str:
    """The address of a page, up to its token."""
    return reverse(name, args=["TOKEN"]).removesuffix("TOKEN/")


def _link(name: str, token: str) -> str:
    return f"{settings.SITE_URL}{_path(name)}{token}/"


def seen_link(notice_id: UUID) -> str:
    """Where somebody says that they have seen a notice."""
    return _link("notice-seen", signing.dumps(notice_id.hex, salt="notice seen"))


def stop_link(address_id: UUID, kind: str) -> str:
    """Where somebody ends messages of one kind."""
    return _link("notice-stop", signing.dumps([address_id.hex, kind], salt="notice stop"))


def seen_token(token: str) -> UUID:
    """The notice of a link. Raises BadLink."""
    return _id(_opened(token, "notice seen"))


def stop_token(token: str) -> tuple[UUID, str]:
    """The address and the kind of a link, which does not age. Raises BadLink."""
    inside = _opened(token, "notice stop", None)
    if not isinstance(inside, list) or len(inside) != 2:
        raise BadLink(LINK_BROKEN())
    address, kind = inside
    if kind not in NoticeKind.values:
        # A kind that a later version no longer has, in a message that somebody kept.
        raise BadLink(LINK_KIND_GONE())
    return _id(address), kind


def _id(inside: Any) -> UUID:
    """The id in a link. Signed by us is not made by this version: it may be anything."""
    try:
        return UUID(inside)
    except (ValueError, AttributeError, TypeError):
        raise BadLink(LINK_BROKEN()) from None


def _opened(token: str, salt: str, age: int | None = MONTH) -> Any:
    try:
        return signing.loads(token, salt=salt, max_age=age)
    except signing.SignatureExpired:
        raise BadLink(LINK_OLD()) from None
    except signing.BadSignature:
        raise BadLink(LINK_BROKEN()) from None
