"""Text messages, chat and push, through a shop's gateway."""

from collections.abc import Callable, Sequence
from types import TracebackType

from config.languages import spoken_to
from config.messages.stored import to_json
from notifications.links import seen_link
from notifications.messages.mail import SHORT_SEEN
from notifications.models import Delivery, Gateway, Notice
from notifications.rendering import in_one_line

from .base import DeliveryRefused, Later
from .gateways import notify

LONGEST = 480  # characters; three text messages


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
        assert gateway is not None  # the database asks it of every address of a message
        try:
            notify(
                gateway, delivery.address.target, short_message(delivery, notices), str(delivery.id)
            )
        except (DeliveryRefused, Later) as fault:
            Gateway.objects.filter(id=gateway.id).update(fault=to_json(fault.text))
            raise
        if gateway.fault:
            Gateway.objects.filter(id=gateway.id).update(fault="")


def short_message(delivery: Delivery, notices: Sequence[Notice]) -> str:
    """The notices in few characters, with the link to say that they were seen."""
    with spoken_to(delivery.person.language, delivery.person.units):
        says = []
        for notice in notices:
            says.append(in_one_line(notice.text))
        texts = " / ".join(says)
        link = f" {in_one_line(SHORT_SEEN(link=seen_link(notices[0].id)))}"
    room = LONGEST - len(link)
    if len(texts) > room:
        texts = texts[: room - 2] + " …"
    return texts + link
