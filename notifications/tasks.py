"""Celery tasks, as thin as paper."""

import logging
import threading
from collections.abc import Iterable

from celery import shared_task
from django.conf import settings
from django.dispatch import receiver
from kombu.exceptions import OperationalError

from config.sweeps import each_by_itself
from notifications.models import Channel, Lane
from notifications.services.escalation import escalate, escalations_due
from notifications.services.notices import shop_follow, shops_due
from notifications.services.outbox import lanes_due
from notifications.services.sending import deliver
from notifications.signals import outbox_filled

log = logging.getLogger(__name__)

_busy: dict[tuple[str, str], threading.Lock] = {}
"""Lanes that this process is sending in: one connection a lane, however many messages ring."""


@shared_task(name="notifications.tick")
def tick() -> None:
    """The beat: what follows from shops, what goes on, and what is due to be sent."""
    each_by_itself(shops_due(), shop_follow, "shop")
    each_by_itself(escalations_due(), escalate, "notice")
    ring(lanes=lanes_due())


@shared_task(name="notifications.deliver")
def send_lane(lane: str, channel: str) -> int:
    """Send what is due in a lane over a channel."""
    lock = _busy.setdefault((lane, channel), threading.Lock())
    if not lock.acquire(blocking=False):
        return 0  # the one that is at it looks again before it ends; else the beat does
    try:
        return deliver(Lane(lane), Channel(channel))
    finally:
        lock.release()


@receiver(outbox_filled, dispatch_uid="send what may go at once")
def ring(*, lanes: Iterable[tuple[str, str]], **_: object) -> None:
    """Queue the sending. With the broker down the next beat does."""
    for lane, channel in lanes:
        try:
            send_lane.apply_async(
                (lane, channel), queue=lane, expires=settings.ENVIRONMENT.studbay_sweep_seconds
            )
        except OperationalError as error:
            log.warning("%s waits for the beat: %s", lane, error)
