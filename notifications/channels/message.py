"""Text messages, chat and push, through the `apprise` URL of a shop's gateway."""

import logging
from collections.abc import Callable, Sequence
from types import TracebackType
from urllib.parse import quote

import apprise

from config.languages import say
from notifications.links import seen_link
from notifications.models import Delivery, Gateway, Notice

from .base import Later, Refused
from .network import reachable

LONGEST = 480  # characters; three text messages
REFUSALS = ("401", "403", "404", "Unauthorized", "Forbidden")


class MessageSender:
    """Each delivery is a request of its own."""

    def __enter__(self) -> "MessageSender":
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
        """Send one. Raises Refused or Later; the gateway keeps why, for the office to see."""
        gateway = delivery.address.gateway
        private = delivery.shop.notice_rules.private_webhooks
        try:
            notify(gateway.url, delivery.address.target, short(delivery, notices), private=private)
        except (Refused, Later) as fault:
            Gateway.objects.filter(id=gateway.id).update(fault=str(fault)[:500])
            raise
        if gateway.fault:
            Gateway.objects.filter(id=gateway.id).update(fault="")


def short(delivery: Delivery, notices: Sequence[Notice]) -> str:
    """The notices in few characters, with the link to say that they were seen."""
    language = delivery.person.language or "en"
    texts = " / ".join(say(notice.text, language) for notice in notices)
    link = f" {say('Seen', language)}: {seen_link(notices[0].id)}"
    room = LONGEST - len(link)
    if len(texts) > room:
        texts = texts[: room - 2] + " …"
    return texts + link


def notify(url: str, to: str, text: str, *, private: bool) -> None:
    """Send a text through a gateway's URL. Raises Refused or Later, without the URL's secrets."""
    full = url.replace("{to}", quote(to, safe=""))
    plugin = apprise.Apprise.instantiate(full, suppress_exceptions=True)
    if plugin is None:
        raise Refused("the gateway's URL is not one that can be sent through; check it")
    host = getattr(plugin, "host", None)
    if host:
        reachable(host, getattr(plugin, "port", None) or 443, private=private)
    service = apprise.Apprise()
    service.add(plugin)
    with apprise.LogCapture(level=logging.WARNING, fmt="%(message)s") as log:
        went = service.notify(body=text)
        said = " ".join(log.getvalue().split())
    if went:
        return
    fault = f"the gateway did not take it: {_without_secrets(said, full) or 'no reason given'}"
    raise (Refused if any(mark in said for mark in REFUSALS) else Later)(fault)


def _without_secrets(said: str, url: str) -> str:
    """What a log says, without the parts of the URL that nobody should read."""
    for part in url.partition("://")[2].replace("@", "/").replace(":", "/").split("/"):
        if len(part) > 5:
            said = said.replace(part, "…")
    return said
