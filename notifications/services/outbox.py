"""The outbox: taking what is due with a lease, and writing down how it went.

A delivery that was taken and never ended is taken again once its lease has run out. Between
the mail server's yes and our note of it a crash leaves one message that is sent twice, with the
same Message-ID; nothing else is.
"""

import random
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.models import Count, F, Q, QuerySet
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Value
from config.messages.stored import to_json
from jobs.access import require_role
from jobs.models import Person, Role
from notifications.messages.refusals import ADDRESS_ENDED, ADDRESS_IS_PAUSED
from notifications.messages.sending import ADDRESS_PAUSED
from notifications.models import Address, Channel, Delivery, Lane, NoticeRules, State, Try

BATCH = 100
MOST_TRIES = 9
FIRST_WAIT = 30  # seconds before the second try; doubled each time, to some two hours
MINUTE = timedelta(minutes=1)
UNLIKE = timedelta(minutes=5)
"""So far apart the clocks of two machines may be. A lease longer than one is, and this, was taken
by a clock that was set back since: nobody has it any more."""


def lease_time() -> timedelta:
    """How long a worker may keep what it took."""
    return timedelta(seconds=settings.ENVIRONMENT.studbay_lease_seconds)


@transaction.atomic
def take(lane: Lane, channel: Channel, most: int = BATCH) -> list[Delivery]:
    """Up to so many deliveries that are due and nobody has, leased to the caller."""
    now = timezone.now()
    most = min(most, _allowed(channel, now))
    if most <= 0:
        return []
    waiting = _free(now).filter(lane=lane, channel=channel, due_at__lte=now)
    rows = waiting.select_for_update(of=("self",), skip_locked=connection.vendor == "postgresql")
    ids = list(rows.order_by("due_at", "id").values_list("id", flat=True)[:most])
    token = secrets.token_hex(16)
    Delivery.objects.filter(id__in=ids).update(
        lease=token, lease_until=now + lease_time(), tries=F("tries") + 1
    )
    # A batch goes to few people, shops and addresses: each is read once and not with every row.
    taken = Delivery.objects.filter(id__in=ids).order_by("due_at", "id")
    return list(
        taken.prefetch_related(
            "person",
            "shop__notice_rules",
            "address__gateway",
            "notices__job__standing",
            "notices__inspection__job__shop",
        )
    )


def _free(now: datetime) -> QuerySet[Delivery]:
    """Deliveries that wait, and those whose lease has run out."""
    false = Q(lease_until__gt=now + lease_time() + UNLIKE)
    return Delivery.objects.filter(state=State.DUE).filter(
        Q(lease_until__isnull=True) | Q(lease_until__lt=now) | false
    )


def _allowed(channel: Channel, now: datetime) -> int:
    """How many more may go over a channel this minute."""
    rate = settings.ENVIRONMENT.rate(channel)
    if not rate:
        return BATCH
    if connection.vendor == "postgresql":  # SQLite has one writer at a time anyway
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(hashtext(%s))", [f"rate of {channel}"])
    recent = Delivery.objects.filter(channel=channel, state=State.SENT, ended_at__gt=now - MINUTE)
    taken = Delivery.objects.filter(channel=channel, state=State.DUE, lease_until__gte=now)
    return rate - recent.count() - taken.count()


def lanes_due() -> list[tuple[str, str]]:
    """Lanes and channels on which something is due now."""
    now = timezone.now()
    waiting = _free(now).filter(due_at__lte=now).order_by("lane", "channel")
    return list(
        waiting.values_list("lane", "channel").annotate(Count("id")).values_list("lane", "channel")
    )


def keep_lease(deliveries: Sequence[Delivery]) -> bool:
    """Renew the lease on what is left of a batch; False when any of it was taken away."""
    if not deliveries:
        return True
    # Not by state: one whose person left the shop meanwhile has ended, and keeps its lease.
    own = Delivery.objects.filter(
        id__in=[each.id for each in deliveries], lease=deliveries[0].lease
    )
    return own.update(lease_until=timezone.now() + lease_time()) == len(deliveries)


STILL_DUE = "SELECT 1 FROM notifications_delivery WHERE id = %s AND lease = %s AND state = %s"
"""Written out, as SENT is."""


def still_due(delivery: Delivery) -> bool:
    """Whether it is to go yet, asked right before it does: its person may have left the shop."""
    if connection.features.has_native_uuid_field:
        identity = delivery.id
    else:
        identity = delivery.id.hex
    with connection.cursor() as cursor:
        cursor.execute(STILL_DUE, [identity, delivery.lease, State.DUE.value])
        return cursor.fetchone() is not None


SENT = (
    "UPDATE notifications_delivery SET state = %s, ended_at = %s, lease = '', lease_until = NULL, "
    "fault = '\"\"' WHERE id = %s AND lease = %s"
)
"""Written out: it runs once a message, between the other side's yes and the next message."""


def sent(delivery: Delivery) -> None:
    """It arrived at the other side."""
    now = connection.ops.adapt_datetimefield_value(timezone.now())
    if connection.features.has_native_uuid_field:
        identity = delivery.id
    else:
        identity = delivery.id.hex
    with connection.cursor() as cursor:
        cursor.execute(SENT, [State.SENT.value, now, identity, delivery.lease])


def leave_out(delivery: Delivery) -> None:
    """What no longer stands goes out of a message with others: nobody will have been told of it."""
    gone = delivery.notices.filter(moot_at__isnull=False)
    delivery.notices.remove(*gone)


def moot(delivery: Delivery) -> None:
    """What it was to tell no longer stands."""
    _end(delivery, State.MOOT, "")


def dead(delivery: Delivery, fault: Value) -> None:
    """It will never arrive as it is; the office sees why."""
    _failed(delivery, fault)
    _end(delivery, State.DEAD, fault)
    _shop_due(delivery.shop_id)


def came_back(delivery: Delivery, because: Value) -> None:
    """It was taken on, and returned later."""
    _failed(delivery, because)
    Delivery.objects.filter(id=delivery.id).update(
        state=State.DEAD, ended_at=timezone.now(), fault=to_json(because)
    )


def retry_later(delivery: Delivery, fault: Value, *, line_down: bool = False) -> None:
    """It did not arrive this time: again after a while, at last not any more.

    While the channel itself is down that is no fault of the message, and no try counts.
    """
    if delivery.tries >= MOST_TRIES and not line_down:
        dead(delivery, fault)
        return
    _failed(delivery, fault)
    wait = wait_before(2 if line_down else delivery.tries + 1, random.random())
    again = timezone.now() + timedelta(seconds=wait)
    tries = delivery.tries
    if line_down:
        tries = delivery.tries - 1
    _own(delivery).update(
        lease="", lease_until=None, due_at=again, tries=tries, fault=to_json(fault)
    )


def untried(deliveries: Sequence[Delivery]) -> None:
    """Give back what was taken and not tried."""
    if deliveries:
        own = Delivery.objects.filter(id__in=[each.id for each in deliveries])
        own.filter(lease=deliveries[0].lease, state=State.DUE).update(
            lease="", lease_until=None, tries=F("tries") - 1
        )


def wait_before(number: int, chance: float) -> float:
    """Seconds before a try of that number (2 is the second); `chance` from 0 to 1 spreads them.

    Doubled each time, and spread over the upper half so that they do not come all at once.
    """
    longest: float = FIRST_WAIT * 2 ** (number - 2)
    return longest * (0.5 + 0.5 * chance)


def _failed(delivery: Delivery, fault: Value) -> None:
    Try.objects.create(
        delivery=delivery, number=delivery.tries, at=timezone.now(), fault=to_json(fault)
    )


def _end(delivery: Delivery, state: State, fault: Value) -> None:
    _own(delivery).update(
        state=state, ended_at=timezone.now(), lease="", lease_until=None, fault=to_json(fault)
    )


def _own(delivery: Delivery) -> QuerySet[Delivery]:
    """The row while the lease on it is still the one it was taken with."""
    return Delivery.objects.filter(id=delivery.id, lease=delivery.lease)


@transaction.atomic
def address_pause(address_id: UUID, because: Value) -> None:
    """Send nothing more to an address that does not work. What waits for it is given up."""
    now = timezone.now()
    Address.objects.filter(id=address_id, paused_at__isnull=True).update(
        paused_at=now, paused_because=to_json(because)
    )
    Delivery.objects.filter(address=address_id, state=State.DUE, lease="").update(
        state=State.DEAD, ended_at=now, fault=to_json(ADDRESS_PAUSED(fault=because))
    )
    _shop_due(Address.objects.values_list("shop", flat=True).get(id=address_id))


def _shop_due(shop_id: UUID) -> None:
    """The office is told of it by the next sweep."""
    NoticeRules.objects.filter(shop=shop_id).update(next_at=timezone.now())


@transaction.atomic
def delivery_retry(actor: Person, *, delivery: Delivery) -> None:
    """Try once more what was given up, after somebody looked into it."""
    require_role(actor, delivery.shop, Role.OFFICE)
    if delivery.address.ended_at is not None:
        raise ValidationError(said_later(ADDRESS_ENDED()))
    if delivery.address.paused_at is not None:
        raise ValidationError(said_later(ADDRESS_IS_PAUSED()))
    Delivery.objects.filter(id=delivery.id, state=State.DEAD).update(
        state=State.DUE, tries=0, due_at=timezone.now(), ended_at=None
    )
