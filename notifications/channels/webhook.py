"""Webhooks by the Standard Webhooks specification: signed, dated, each with a stable id."""

import http.client
import json
import socket
import ssl
from collections.abc import Callable, Sequence
from types import TracebackType
from typing import Any
from urllib.parse import urlsplit

from django.utils import timezone
from standardwebhooks import Webhook

from notifications.models import Delivery, Notice

from .base import Later, Refused
from .network import reachable

TIMEOUT = 10  # seconds
RETRY_ANYWAY = (408, 425, 429)


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
            raise Refused(f"the webhook's secret cannot sign: {error}") from None
        headers = {
            "Content-Type": "application/json",
            "User-Agent": "Studbay",
            "webhook-id": str(delivery.id),
            "webhook-timestamp": str(int(now.timestamp())),
            "webhook-signature": signature,
        }
        private = delivery.shop.notice_rules.private_webhooks
        status = post(delivery.address.target, headers, body.encode(), private=private)
        if status == 410:
            raise Refused("the webhook answered 410: it is gone", pause=True)
        if 300 <= status < 500 and status not in RETRY_ANYWAY:
            raise Refused(f"the webhook answered {status}")
        if not 200 <= status < 300:
            raise Later(f"the webhook answered {status}")


def payload(delivery: Delivery, notices: Sequence[Notice]) -> dict[str, Any]:
    """What is told, as data."""
    return {
        "type": "notices.given",
        "timestamp": min(notice.given_at for notice in notices).isoformat(),
        "data": {
            "person": delivery.person.username,
            "notices": [
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
                for notice in notices
            ],
        },
    }


def post(url: str, headers: dict[str, str], body: bytes, *, private: bool) -> int:
    """The status that the other side answers. Follows no redirect.

    Raises Refused for a URL that may not be asked, Later when there was no answer.
    """
    parts = urlsplit(url)
    if parts.scheme != "https" and not private:
        raise Refused("a webhook must begin with https://, or the signature travels in the open")
    if not parts.hostname:
        raise Refused("the webhook's URL names no host")
    secure = parts.scheme == "https"
    port = parts.port or (443 if secure else 80)
    address = reachable(parts.hostname, port, private=private)
    connection = _Pinned(parts.hostname, port, address, secure)
    try:
        path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
        connection.request("POST", path, body, headers)
        answer = connection.getresponse()
        answer.read(1024)
        return answer.status
    except (OSError, http.client.HTTPException) as error:
        raise Later(f"{parts.hostname} does not answer: {error or type(error).__name__}") from None
    finally:
        connection.close()


class _Pinned(http.client.HTTPConnection):
    """A connection to an address that was looked at, whatever the name says by now."""

    def __init__(self, host: str, port: int, address: str, secure: bool) -> None:
        super().__init__(host, port, timeout=TIMEOUT)
        self._address, self._secure = address, secure

    def connect(self) -> None:
        """Connect to the address; the certificate must be for the name."""
        self.sock = socket.create_connection((self._address, self.port), self.timeout)
        if self._secure:
            context = ssl.create_default_context()
            self.sock = context.wrap_socket(self.sock, server_hostname=self.host)
