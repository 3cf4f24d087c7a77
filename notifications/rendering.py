"""A delivery as words: subject, plain text and HTML, from templates that lack nothing."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.template import Context as Values
from django.template import Engine
from django.template.base import Template
from django.utils.translation import get_language

from config.languages import say, spoken_to
from config.messages.message import Text
from config.messages.saying import said
from jobs.moments import at_place
from notifications.links import seen_link, stop_link
from notifications.messages.mail import (
    SEEN,
    SINCE,
    STOP,
    SUBJECT_MANY,
    SUBJECT_URGENT,
    URGENT,
)
from notifications.messages.sending import LACKS_VALUE
from notifications.models import Delivery, Notice
from notifications.services.planning import person_name

SUBJECT_LENGTH = 120
SPACES = re.compile(r"\s+")


class MissingValue(Exception):
    """A template asks for a value that it was not given."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


class _Missing(str):
    """What Django puts in place of a missing value; ours refuses."""

    def __mod__(self, name: object) -> str:
        raise MissingValue(LACKS_VALUE(name=str(name)))


@dataclass(frozen=True, slots=True)
class MessageText:
    """What a reader gets."""

    subject: str
    text: str
    html: str
    stop: str
    """The link that ends messages of this kind."""


@cache
def _engine() -> Engine:
    folders = [str(settings.ROOT / "templates" / "notices")]
    loaders = [
        ("django.template.loaders.cached.Loader", ["django.template.loaders.filesystem.Loader"])
    ]
    return Engine(dirs=folders, loaders=loaders, string_if_invalid=_Missing("%s"))


@cache
def _template(name: str) -> Template:
    return _engine().get_template(name)


def message_text(delivery: Delivery, notices: Sequence[Notice]) -> MessageText:
    """The words of a delivery, in its reader's language. Raises MissingValue."""
    with spoken_to(delivery.person.language, delivery.person.units):
        return _words_of(delivery, notices)


def in_one_line(text: object) -> str:
    """What is said, without breaks of lines that somebody typed, nor spaces that do not break."""
    return SPACES.sub(" ", say(text)).strip()


def _words_of(delivery: Delivery, notices: Sequence[Notice]) -> MessageText:
    lines = []
    for notice in notices:
        lines.append(_line(delivery, notice))
    stop = stop_link(delivery.address_id, notices[0].kind)
    values = {
        "name": person_name(delivery.person),
        "shop": delivery.shop.name,
        "lines": lines,
        "words": {
            "urgent": say(URGENT()),
            "seen": say(SEEN()),
            "stop": say(STOP(kind=notices[0].get_kind_display())),
        },
        "language": get_language(),
        "stop": stop,
        "site": settings.SITE_URL,
    }
    return MessageText(
        _subject(delivery, notices),
        _render("mail.txt", values, False),
        _render("mail.html", values, True),
        stop,
    )


def _line(delivery: Delivery, notice: Notice) -> dict[str, Any]:
    """One notice of a message."""
    zone = ZoneInfo((notice.job or delivery.shop).time_zone)
    return {
        "text": in_one_line(notice.text),
        "body": [in_one_line(line) for line in notice.body],
        "since": say(SINCE(moment=at_place(notice.due_at, zone))),
        "seen": seen_link(notice.id),
        "urgent": notice.urgent,
    }


def _subject(delivery: Delivery, notices: Sequence[Notice]) -> str:
    if len(notices) > 1:
        return in_one_line(SUBJECT_MANY(shop=delivery.shop.name, n=len(notices)))[:SUBJECT_LENGTH]
    subject = in_one_line(notices[0].text)
    if notices[0].urgent:
        subject = in_one_line(SUBJECT_URGENT(notice=subject))
    if len(subject) > SUBJECT_LENGTH:
        subject = subject[: SUBJECT_LENGTH - 2].rsplit(" ", 1)[0] + " …"
    return subject


def _render(name: str, values: dict[str, Any], escape: bool) -> str:
    return _template(name).render(Values(values, autoescape=escape))
