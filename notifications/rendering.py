"""A delivery as words: subject, plain text and HTML, from templates that lack nothing."""

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

from config.languages import say, speaking, spoken_to
from notifications.links import seen_link, stop_link
from notifications.models import Delivery, Notice
from notifications.services.planning import person_name

SUBJECT_LENGTH = 120
FRAME = {
    "urgent": "URGENT.",
    "since": "since",
    "seen_it": "seen it",
    "seen": "Seen",
    "stop": "No more messages of this kind",
}
"""What stands round the notices of a message."""


class MissingValue(Exception):
    """A template asks for a value that it was not given."""


class _Missing(str):
    """What Django puts in place of a missing value; ours refuses."""

    def __mod__(self, name: object) -> str:
        raise MissingValue(f"the message template lacks a value for '{name}'")


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


def _words_of(delivery: Delivery, notices: Sequence[Notice]) -> MessageText:
    tell = speaking()
    zones = {}
    for notice in notices:
        zones[notice.id] = (notice.job or delivery.shop).time_zone
    lines = []
    for notice in notices:
        body = []
        for line in notice.body.splitlines():
            body.append(tell(line))
        lines.append(
            {
                "text": tell(notice.text),
                "body": body,
                "since": tell(
                    f"{notice.due_at.astimezone(ZoneInfo(zones[notice.id])):%a %d %b %H:%M}"
                ),
                "seen": seen_link(notice.id),
                "urgent": notice.urgent,
            }
        )
    stop = stop_link(delivery.address_id, notices[0].kind)
    values = {
        "name": person_name(delivery.person),
        "shop": delivery.shop.name,
        "lines": lines,
        "digest": delivery.digest,
        "kind": say(notices[0].get_kind_display()),
        "words": _frame(get_language()),
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


@cache
def _frame(_language: str) -> dict[str, str]:
    frame: dict[str, str] = {}
    for name, text in FRAME.items():
        frame[name] = say(text)
    return frame


def _subject(delivery: Delivery, notices: Sequence[Notice]) -> str:
    if len(notices) > 1:
        counted = say(f"{len(notices)} notices")
        return f"{delivery.shop.name}: {counted}"[:SUBJECT_LENGTH]
    text = say(notices[0].text)
    mark = ""
    if notices[0].urgent:
        mark = f"{say('Urgent')}: "
    subject = " ".join(f"{mark}{text}".split())
    if len(subject) > SUBJECT_LENGTH:
        subject = subject[: SUBJECT_LENGTH - 2].rsplit(" ", 1)[0] + " …"
    return subject


def _render(name: str, values: dict[str, Any], escape: bool) -> str:
    return _template(name).render(Values(values, autoescape=escape))
