"""A message was given up."""

from collections.abc import Iterator

from config.messages.kept import message_of
from notifications.messages.shops import NOT_DELIVERED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import LATELY, ShopFacts


@shop_reason("not delivered", NoticeKind.TROUBLE)
def not_delivered(facts: ShopFacts) -> Iterator[Due]:
    """To the office, for some days; not for an address that is paused, which is told by itself.

    The message of such a notice may fail too; that is told of no further.
    """
    for delivery in facts.given_up:
        if delivery.address.paused_at is not None or delivery.id in facts.of_trouble:
            continue
        text = NOT_DELIVERED(
            person=str(delivery.person),
            address=str(delivery.address),
            fault=message_of(delivery.fault),
        )
        at = delivery.ended_at
        assert at is not None  # it was given up then
        yield from due_for(facts.office, delivery.id, text, at, until=at + LATELY)
