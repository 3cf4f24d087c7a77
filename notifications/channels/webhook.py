"""Webhooks by the Standard Webhooks specification: signed, dated, each with a stable id."""

import json
from collections.abc import Callable, Sequence
from types import TracebackType
from typing import Any

from django.utils import timezone
from standardwebhooks import Webhook

from config.languages import say
from notifications.messages import sending
from notifications.models import Delivery, Notice

from .base import DeliveryRefused
from .client import Request, send_request, status_taken

WHO = sending.WEBHOOK()


class WebhookSender:
    """Each delivery is a request of its own."""

    def __enter__(self) -> "WebhookSender":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        return None

    def write(self, delivery: Delivery, notices: Sequence[Notice]) -> None:
        """Nothing is done ahead."""

    def send(
        self,
        delivery: Delivery,
        notices: Sequence[Notice],
        _meanwhile: Callable[[], None] = lambda: None,
    ) -> None:
        """Post one. Raises Refused or Later."""
        body = json.dumps(payload(delivery, notices), separators=(",", ":"))
        now = timezone.now()
        try:
            signature = Webhook(delivery.address.secret).sign(str(delivery.id), now, body)
        except (RuntimeError, ValueError) as error:
            raise DeliveryRefused(sending.CANNOT_SIGN(answer=str(error))) from None
        headers = {
            "Content-Type": "application/json",
            "webhook-id": str(delivery.id),
            "webhook-timestamp": str(int(now.timestamp())),
            "webhook-signature": signature,
        }
        request = Request(delivery.address.target, body.encode(), headers)
        status = send_request(request, WHO)
        if status == 410:
            raise DeliveryRefused(sending.WEBHOOK_GONE(), pause=True)
        status_taken(status, WHO)


def payload(delivery: Delivery, notices: Sequence[Notice]) -> dict[str, Any]:
    """What is told, as data, and in English."""
    told = []
    for notice in notices:
        lines = [say(line, "en") for line in notice.body]
        told.append(
            {
                "id": str(notice.id),
                "reason": notice.reason,
                "kind": notice.kind,
                "urgent": notice.urgent,
                "job": str(notice.job_id) if notice.job_id else None,
                "text": say(notice.text, "en"),
                "body": "\n".join(lines),
                "due_at": notice.due_at.isoformat(),
            }
        )
    return {
        "type": "notices.given",
        "timestamp": min(notice.given_at for notice in notices).isoformat(),
        "data": {
            "person": delivery.person.username,
            "notices": told,
        },
    }
