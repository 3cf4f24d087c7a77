"""An address does not work, and nothing more is sent there."""

from collections.abc import Iterator

from config.messages.kept import message_of
from notifications.messages.shops import PAUSED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts


@shop_reason("address paused", NoticeKind.TROUBLE)
def address_paused(facts: ShopFacts) -> Iterator[Due]:
    """To the office, until somebody has it written to again or removed."""
    for address in facts.paused:
        text = PAUSED(
            person=str(address.person),
            address=str(address),
            fault=message_of(address.paused_because),
        )
        at = address.paused_at
        assert at is not None
        yield from due_for(facts.office, f"{address.id} {at.isoformat()}", text, at)
