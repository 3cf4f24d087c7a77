"""Webhooks by the Standard Webhooks specification: signed, dated, each with a stable id."""

import json
from collections.abc import Callable, Sequence
from types import TracebackType
from typing import Any

from django.utils import timezone
from standardwebhooks import Webhook

from notifications.models import Delivery, Notice

from .base import DeliveryRefused
from .client import Request, send_request, status_taken


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
            raise DeliveryRefused(f"the webhook's secret cannot sign: {error}") from None
        headers = {
            "Content-Type": "application/json",
            "webhook-id": str(delivery.id),
            "webhook-timestamp": str(int(now.timestamp())),
            "webhook-signature": signature,
        }
        request = Request(delivery.address.target, body.encode(), headers)
        status = send_request(request, "the webhook")
        if status == 410:
            raise DeliveryRefused("the webhook answered 410: it is gone", pause=True)
        status_taken(status, "the webhook")


def payload(delivery: Delivery, notices: Sequence[Notice]) -> dict[str, Any]:
    """What is told, as data."""
    told = []
    for notice in notices:
        told.append(
            {
                "id": str(notice.id),
                "reason": notice.reason,
                "kind": notice.kind,
                "urgent": notice.urgent,
                "job": str(notice.job_id) if notice.job_id else None,
                "text": notice.text,
                "body": notice.body,
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
