"""Sending what is due: take a batch, leave out what became moot, write down each outcome."""

import logging
import time
from collections.abc import Callable, Sequence
from functools import partial
from uuid import UUID

from django.conf import settings
from django.db.models import F, Q
from django.utils import timezone

from config.faults import value_of
from config.messages.message import Value
from inspections.models import JobStanding
from inspections.services.settling import settled_or_set_aside
from notifications.channels.base import ChannelDown, DeliveryRefused, Later, Sender
from notifications.channels.registry import sender_for
from notifications.models import Address, Channel, Delivery, Lane, Notice
from notifications.rendering import MissingValue
from notifications.services import outbox
from notifications.services.escalation import try_next_address
from notifications.telling import text_now

log = logging.getLogger(__name__)

LONGEST_RUN = 50  # seconds; the next beat goes on


def deliver(lane: Lane, channel: Channel) -> int:
    """Send what is due in a lane over a channel, until there is no more; how many were sent."""
    until, count = time.monotonic() + LONGEST_RUN, 0
    with sender_for(channel) as sender:
        while time.monotonic() < until:
            batch = outbox.take(lane, channel)
            if not batch:
                break
            number, open_still = _send(sender, batch)
            count += number
            if not open_still:
                break
    return count


def _send(sender: Sender, batch: Sequence[Delivery]) -> tuple[int, bool]:
    """Send a batch. How many were sent, and whether the channel still takes more."""
    letters = _letters(batch)
    renew_at = _renew_at()
    count = 0
    for number, (delivery, notices) in enumerate(letters):
        if time.monotonic() > renew_at:
            if not outbox.keep_lease(batch[number:]):
                return count, True  # somebody has taken them, since we were too slow
            renew_at = _renew_at()
        if not notices:
            outbox.moot(delivery)
            continue
        if not outbox.still_due(delivery):
            continue  # its person left the shop since the batch was taken
        try:
            count += _send_one(
                sender, delivery, notices, _write_next(sender, letters[number + 1 :])
            )
        except ChannelDown as fault:
            outbox.retry_later(delivery, fault.text, line_down=True)
            outbox.untried(batch[number + 1 :])
            return count, False
    return count, True


def _send_one(
    sender: Sender,
    delivery: Delivery,
    notices: Sequence[Notice],
    meanwhile: Callable[[], None],
) -> bool:
    """Whether it was sent; what becomes of it otherwise is kept. Raises ChannelDown."""
    try:
        sender.send(delivery, notices, meanwhile)
    except ChannelDown:
        raise
    except Later as fault:
        outbox.retry_later(delivery, fault.text)
    except (DeliveryRefused, MissingValue) as fault:
        _refused(delivery, fault)
    except Exception as fault:  # one bad message must not hold up the rest
        log.exception("delivery %s", delivery.id)
        outbox.retry_later(delivery, value_of(fault))
    else:
        outbox.sent(delivery)
        return True
    return False


def _letters(batch: Sequence[Delivery]) -> list[tuple[Delivery, list[Notice]]]:
    """Each delivery with those of its notices that still stand, in today's words."""
    standing = _standing(batch)
    letters: list[tuple[Delivery, list[Notice]]] = []
    for delivery in batch:
        notices = [notice for notice in delivery.notices.all() if notice.id in standing]
        letters.append((delivery, notices))
    for _, notices in letters:
        for notice in notices:
            notice.text = text_now(notice)
    for delivery, notices in letters:
        if notices and len(notices) < len(delivery.notices.all()):
            outbox.leave_out(delivery)
    return letters


def _renew_at() -> float:
    """When the lease of what is being sent must be renewed: at half of its time."""
    return time.monotonic() + settings.ENVIRONMENT.studbay_lease_seconds / 2


def _write_next(
    sender: Sender, pairs: Sequence[tuple[Delivery, Sequence[Notice]]]
) -> Callable[[], None]:
    """What to do while a message is on its way: write the one after it."""
    following = None
    for each, notices in pairs:
        if notices:
            following = (each, notices)
            break
    if following:
        return partial(sender.write, *following)
    return lambda: None


def _standing(batch: Sequence[Delivery]) -> set[UUID]:
    """Which notices of a batch still stand and were not seen, by the facts as they are now.

    Whoever has left a shop is told nothing more of it.
    """
    ids = set()
    for delivery in batch:
        for notice in delivery.notices.all():
            ids.add(notice.id)
    jobs = set()
    for delivery in batch:
        for n in delivery.notices.all():
            if n.job_id:
                jobs.add(n.job_id)
    behind = Q(settled__lt=F("facts")) | Q(next_at__lte=timezone.now())
    late = JobStanding.objects.filter(behind, job__in=jobs, set_aside_at=None)
    for job_id in list(late.values_list("job", flat=True)):
        settled_or_set_aside(job_id)
    still = Notice.objects.filter(
        id__in=ids,
        moot_at__isnull=True,
        seen_at__isnull=True,
        person__memberships__shop=F("shop"),
    )
    return set(still.values_list("id", flat=True))


def _refused(delivery: Delivery, fault: DeliveryRefused | MissingValue) -> None:
    """Give it up, pause an address that is no good, and try the person's next one."""
    outbox.dead(delivery, fault.text)
    if isinstance(fault, DeliveryRefused) and fault.pause:
        outbox.address_pause(delivery.address_id, fault.text)
    try_next_address(delivery)


def bounced(*, delivery_id: UUID, because: Value) -> Address | None:
    """A message that was sent came back: pause its address and try the person's next one."""
    delivery = Delivery.objects.select_related("address").filter(id=delivery_id).first()
    if delivery is None:
        return None
    outbox.came_back(delivery, because)
    outbox.address_pause(delivery.address_id, because)
    try_next_address(delivery)
    return delivery.address
