"""Gateways that are offered: each one request over HTTP, as its own documents write it.

A gateway is offered only where that one request is all there is to it, so that the client for
what leaves can hold it. `{to}` in an address stands for what a person gave.
"""

import base64
import json
from collections.abc import Callable, Mapping
from urllib.parse import quote, urlencode, urlsplit

from django.core.exceptions import ValidationError

from config.languages import said_later
from config.messages.message import Message, Text
from notifications.messages import refusals, sending
from notifications.models import Gateway, GatewayKind

from .base import DeliveryRefused
from .client import Request, send_request, status_taken

TO = "{to}"
JSON = {"Content-Type": "application/json"}
FORM = {"Content-Type": "application/x-www-form-urlencoded"}
PLAIN = {"Content-Type": "text/plain; charset=utf-8"}
WHO = sending.GATEWAY()


def address_of(gateway: Gateway, to: str) -> str:
    """Where its requests go for that person."""
    address: str = gateway.url
    return address.replace(TO, quote(to, safe=""))


def _push(gateway: Gateway, to: str, text: str, _key: str) -> Request:
    """ntfy, "Publishing": the topic is in the address, the body is the message."""
    return Request(address_of(gateway, to), text.encode(), PLAIN)


def _room(gateway: Gateway, to: str, text: str, key: str) -> Request:
    """Matrix, client-server API, `PUT …/send/{eventType}/{txnId}`: one id is taken once."""
    room, transaction = quote(to, safe=""), quote(key, safe="")
    base = gateway.url.rstrip("/")
    url = f"{base}/_matrix/client/v3/rooms/{room}/send/m.room.message/{transaction}"
    body = json.dumps({"msgtype": "m.text", "body": text})
    return Request(url, body.encode(), JSON, "PUT")


def _chat(gateway: Gateway, to: str, text: str, _key: str) -> Request:
    """An incoming webhook of a chat: JSON with `text`, as Mattermost and Slack document it."""
    return Request(address_of(gateway, to), json.dumps({"text": text}).encode(), JSON)


def _sms(gateway: Gateway, to: str, text: str, _key: str) -> Request:
    """Twilio's Messages resource: a form of To, From and Body."""
    given = {"To": to, "From": gateway.sender, "Body": text}
    return Request(address_of(gateway, to), urlencode(given).encode(), FORM)


def _form(gateway: Gateway, to: str, text: str, _key: str) -> Request:
    """Any service that takes a form of `to`, `from` and `text`."""
    given = {"to": to, "from": gateway.sender, "text": text}
    return Request(address_of(gateway, to), urlencode(given).encode(), FORM)


OFFERED: dict[str, Callable[[Gateway, str, str, str], Request]] = {
    GatewayKind.PUSH: _push,
    GatewayKind.ROOM: _room,
    GatewayKind.CHAT: _chat,
    GatewayKind.SMS: _sms,
    GatewayKind.FORM: _form,
}
"""What each kind asks: gateway, whom, the text, and a key that is the same at every try."""


def _who_asks(gateway: Gateway) -> dict[str, str]:
    """By name and password (RFC 7617), by a token alone (RFC 6750), or not at all."""
    if gateway.account:
        pair = f"{gateway.account}:{gateway.secret}".encode()
        return {"Authorization": f"Basic {base64.b64encode(pair).decode()}"}
    if gateway.secret:
        return {"Authorization": f"Bearer {gateway.secret}"}
    return {}


def notify(gateway: Gateway, to: str, text: str, key: str) -> None:
    """Send a text through a gateway. Raises Refused or Later, without any of its secrets."""
    made = OFFERED.get(gateway.kind)
    if made is None:
        raise DeliveryRefused(sending.KIND_GONE())
    request = made(gateway, to, text, key)
    headers = dict(request.headers) | _who_asks(gateway)
    asked = Request(request.url, request.body, headers, request.method)
    status_taken(send_request(asked, WHO), WHO)


def refuse_unfit(gateway: Gateway, *, plain: bool) -> None:
    """Refuse what could never be sent through; `plain` where the server allows http:// somewhere.

    Whatever a person gives as number or room must not choose the host that is asked.
    """
    if gateway.kind not in OFFERED:
        raise ValidationError({"kind": said_later(refusals.GATEWAY_KIND())})
    _refuse_address(gateway, plain=plain)
    needs = {GatewayKind.SMS: ("account", "secret", "sender"), GatewayKind.ROOM: ("secret",)}
    for name in needs.get(GatewayKind(gateway.kind), ()):
        if not getattr(gateway, name):
            raise ValidationError({name: said_later(NEEDED[name]())})
    for name in ("account", "sender", "secret"):
        if not getattr(gateway, name).isprintable():
            raise ValidationError({name: said_later(refusals.GATEWAY_ONE_LINE())})
    if gateway.kind == GatewayKind.PUSH and TO not in gateway.url:
        raise ValidationError({"url": said_later(refusals.GATEWAY_TOPIC(place=TO))})


NEEDED: Mapping[str, Message] = {
    "account": refusals.GATEWAY_ACCOUNT,
    "secret": refusals.GATEWAY_SECRET,
    "sender": refusals.GATEWAY_SENDER,
}


def _refuse_address(gateway: Gateway, *, plain: bool) -> None:
    try:
        parts = urlsplit(gateway.url)
        host, _ = parts.hostname, parts.port
    except ValueError:
        raise _refused(refusals.GATEWAY_UNREADABLE()) from None
    if parts.scheme != "https" and not (plain and parts.scheme == "http"):
        if parts.scheme:
            raise _refused(refusals.GATEWAY_HTTPS(scheme=parts.scheme))
        raise _refused(refusals.GATEWAY_NO_SCHEME())
    if not host or TO in parts.netloc or "@" in parts.netloc:
        raise _refused(refusals.GATEWAY_HOST(place=TO))
    if not _is_plain(gateway.url):
        raise _refused(refusals.GATEWAY_UNREADABLE())


def _refused(text: Text) -> ValidationError:
    """A refusal of the address."""
    return ValidationError({"url": said_later(text)})


def _is_plain(url: str) -> bool:
    """Whether it is of letters, digits and signs alone, without a space."""
    return url.isascii() and url.isprintable() and " " not in url
