"""Reports that a message could not be delivered (RFC 3464), which come back as mail. Pure."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from email.message import EmailMessage, Message
from uuid import UUID

from config.messages.message import Text, Value
from notifications.messages.sending import CAME_BACK, NO_REASON

OURS = re.compile(r"<([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})@")
"""How a Message-ID of a delivery begins."""
LONGEST = 400
"""So many letters of what another server says are kept."""


@dataclass(frozen=True, slots=True)
class Bounce:
    """One message that came back for good."""

    delivery_id: UUID
    because: Text


def bounces(report: EmailMessage) -> list[Bounce]:
    """What a report says of our messages; nothing for a delay, or for mail that is no report."""
    if report.get_content_type() != "multipart/report":
        return []
    ours = dict.fromkeys(UUID(found) for found in OURS.findall(_returned(report)))
    failed = _first_failed(report)
    if not ours or failed is None:
        return []
    because = CAME_BACK(answer=_reason(failed))
    return [Bounce(each, because) for each in ours]


def _reason(failed: Message) -> Value:
    """Why it failed, in the words of the server that returned it."""
    words = str(failed.get("Diagnostic-Code") or failed.get("Status") or "")
    reason = " ".join((words.partition(";")[2] or words).split())
    return reason[:LONGEST] or NO_REASON()


def _first_failed(report: EmailMessage) -> Message | None:
    """The fields of the first recipient whom a message did not reach."""
    for each in _recipients(report):
        if each.get("Action", "").lower() == "failed":
            return each
    return None


def _recipients(report: EmailMessage) -> Iterator[Message]:
    """The group of fields for each recipient."""
    for part in report.walk():
        if part.get_content_type() == "message/delivery-status":
            groups = part.get_payload()
            for group in groups:
                if isinstance(group, Message):
                    yield group


def _returned(report: EmailMessage) -> str:
    """The Message-IDs of what the report returns."""
    found = []
    for part in report.walk():
        if part.get_content_type() in ("message/rfc822", "text/rfc822-headers"):
            payload = part.get_payload()
            if isinstance(payload, list):
                inner = str(payload[0])
            else:
                inner = str(payload)
            for line in inner.splitlines():
                if line.lower().startswith("message-id"):
                    found.append(line)
    return "\n".join(found)
