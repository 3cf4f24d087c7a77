"""What ends of notices, messages, addresses and calendars when somebody leaves a shop."""

from datetime import datetime

from django.db.models import Q

from config.messages.stored import to_json
from jobs.models import Membership, Person, Shop
from notifications.messages.sending import PERSON_LEFT
from notifications.models import Address, Delivery, Feed, Notice, NoticeRules, State


def person_leaves(person: Person, shop: Shop, now: datetime) -> None:
    """End the queue, addresses and calendars of a person in a shop. Within its transaction.

    What a worker has in hand already it asks for once more before it sends it. It keeps its lease:
    a message that was on its way at that moment is written down as sent.
    """
    queue = Delivery.objects.filter(person=person, shop=shop, state=State.DUE)
    queue.update(state=State.MOOT, ended_at=now, fault=to_json(PERSON_LEFT()))
    mine = Notice.objects.filter(person=person, shop=shop)
    open_still = Notice.objects.filter(Q(id__in=mine.values("id")) | Q(handed_from__in=mine))
    open_still.filter(moot_at=None, seen_at=None).update(moot_at=now, escalate_at=None)
    Feed.objects.filter(person=person, shop=shop, withdrawn_at=None).update(withdrawn_at=now)
    NoticeRules.objects.filter(shop=shop, owner=person).update(owner=None)
    _addresses_end(person, shop, now)


def _addresses_end(person: Person, shop: Shop, now: datetime) -> None:
    """Their addresses end, webhooks without their secret; what was sent there stays on record.

    Those of somebody who works with another shop go over to that one, but for what goes by a
    gateway of the shop that they left.
    """
    mine = Address.objects.filter(person=person, shop=shop, ended_at=None)
    other = Membership.objects.filter(person=person).order_by("id").first()
    if other is not None:
        mine.filter(gateway=None).update(shop=other.shop_id)
    mine.update(ended_at=now, secret="")
    by_gateway = Address.objects.filter(person=person, gateway__shop=shop, ended_at=None)
    by_gateway.update(ended_at=now)
