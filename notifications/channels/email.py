"""E-mail through Django's backends, over one connection for as long as it holds."""

import contextlib
import smtplib
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from email.utils import parseaddr
from functools import cache
from types import TracebackType
from uuid import UUID

from django.conf import settings
from django.core.mail import EmailMultiAlternatives, get_connection
from django.core.mail.backends.base import BaseEmailBackend

from config.languages import spoken_to
from notifications.calendars import invitation
from notifications.messages import sending
from notifications.models import Delivery, Notice
from notifications.rendering import message_text

from .base import LONGEST_ANSWER, ChannelDown, DeliveryRefused, Later

GONE = (550, 551, 553, 556)
"""Answers about the recipient after which there is no point in writing there (RFC 5321, 7504)."""


class EmailSender:
    """One connection, opened at the first message and kept.

    While one message is on its way the next is written, so that waiting for the server is no
    idle time. Never are two on their way at once.
    """

    def __init__(self) -> None:
        self._connection: BaseEmailBackend | None = None
        self._carrier = ThreadPoolExecutor(1)
        self._written: tuple[UUID, EmailMultiAlternatives] | None = None

    def __enter__(self) -> "EmailSender":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._drop()
        self._carrier.shutdown()

    def _drop(self) -> None:
        if self._connection is not None:
            with contextlib.suppress(smtplib.SMTPException, OSError):  # what was sent is sent
                self._connection.close()
            self._connection = None

    def write(self, delivery: Delivery, notices: Sequence[Notice]) -> None:
        """Write a message ahead. Whatever is wrong with it is said when it is sent."""
        with contextlib.suppress(Exception):
            self._written = (delivery.id, email_of(delivery, notices))

    def _take_written(self, delivery: Delivery) -> EmailMultiAlternatives | None:
        """The message that was written ahead, if it is that of the delivery."""
        ahead, self._written = self._written, None
        if ahead and ahead[0] == delivery.id:
            return ahead[1]
        return None

    def send(
        self,
        delivery: Delivery,
        notices: Sequence[Notice],
        meanwhile: Callable[[], None] = lambda: None,
    ) -> None:
        """Send one message. Raises Refused, Later or Line."""
        written = self._take_written(delivery) or email_of(delivery, notices)
        try:
            if self._connection is None:
                self._connection = get_connection()
                self._connection.open()
            written.connection = self._connection
            on_its_way = self._carrier.submit(written.send)
            meanwhile()
            on_its_way.result()
        except smtplib.SMTPRecipientsRefused as refusal:
            code, said = next(iter(refusal.recipients.values()))
            raise _by_code(code, said, recipient=True) from None
        except smtplib.SMTPAuthenticationError as refusal:
            self._drop()
            raise ChannelDown(sending.MAIL_REFUSED_US(answer=_said(refusal))) from None
        except smtplib.SMTPResponseException as refusal:
            if refusal.smtp_code == 421:
                self._drop()
                raise ChannelDown(sending.MAIL_CLOSES(answer=_said(refusal))) from None
            raise _by_code(refusal.smtp_code, refusal.smtp_error, recipient=False) from None
        except (smtplib.SMTPException, OSError) as error:
            self._drop()
            answer = str(error) or type(error).__name__
            raise ChannelDown(sending.MAIL_SILENT(answer=answer)) from None
        except ValueError as error:  # a line break in a header, and the like
            raise DeliveryRefused(sending.UNMADE(answer=str(error))) from None


def _by_code(code: int, said: object, *, recipient: bool) -> DeliveryRefused | Later:
    text = sending.MAIL_ANSWERED(code=str(code), answer=_plain(said))
    if code >= 500:
        return DeliveryRefused(text, pause=recipient and code in GONE)
    return Later(text)


def _said(refusal: smtplib.SMTPResponseException) -> str:
    return _plain(refusal.smtp_error)


def _plain(answer: object) -> str:
    """What a server says, on one line and no longer than is worth keeping."""
    if isinstance(answer, bytes):
        text = answer.decode("utf-8", "replace")
    else:
        text = str(answer)
    return " ".join(text.split())[:LONGEST_ANSWER]


def message_id(delivery: Delivery) -> str:
    """The same at every try, so that a second copy is known for one."""
    return f"<{delivery.id}@{_domain(settings.DEFAULT_FROM_EMAIL)}>"


@cache
def _domain(sender: str) -> str:
    return parseaddr(sender)[1].rpartition("@")[2] or "localhost"


def email_of(delivery: Delivery, notices: Sequence[Notice]) -> EmailMultiAlternatives:
    """The message of a delivery: plain text, HTML, and what belongs to a calendar."""
    words = message_text(delivery, notices)
    message = EmailMultiAlternatives(
        subject=words.subject,
        body=words.text,
        to=[delivery.address.target],
        headers={
            "Message-ID": message_id(delivery),
            "Auto-Submitted": "auto-generated",  # RFC 3834
            "List-Unsubscribe": f"<{words.stop}>",
            "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",  # RFC 8058
        },
    )
    message.attach_alternative(words.html, "text/html")
    for notice in notices:
        _attach_inspection(message, delivery, notice, alone=len(notices) == 1)
    return message


def _attach_inspection(
    message: EmailMultiAlternatives, delivery: Delivery, notice: Notice, *, alone: bool
) -> None:
    """Let the reader's calendar follow an inspection; mail programs act on one message alone."""
    if notice.inspection is None:
        return
    with spoken_to(delivery.person.language, delivery.person.units):
        made = invitation(notice.inspection, delivery.address)
    if made is None:
        return
    method, calendar = made
    if alone:
        message.attach_alternative(calendar.decode(), f"text/calendar; method={method}")
    message.attach(f"inspection-{notice.inspection_id}.ics", calendar.decode(), "text/calendar")
