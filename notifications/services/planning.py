"""From a notice to its deliveries: by which address, when, alone or with the day's others."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Q

from jobs.models import Person, Shop
from notifications.models import (
    Address,
    Delivery,
    Habits,
    Lane,
    Notice,
    NoticeKind,
    NoticeRules,
    State,
    Wish,
)
from notifications.signals import outbox_filled
from notifications.timing import Day, When, when

BULK = (NoticeKind.SUMMARY, NoticeKind.LIST)


@dataclass(slots=True)
class Reach:
    """How one person is reached: their day, their wishes, the addresses that work."""

    day: Day
    wishes: dict[str, Wish] = field(default_factory=dict)
    addresses: list[Address] = field(default_factory=list)

    def addresses_for(self, kind: str) -> list[Address]:
        """The addresses for a kind of notice, the wished one first; none when not wished."""
        wish = self.wishes.get(kind)
        if wish is None or wish.way == Wish.Way.FIRST:
            return self.addresses
        if wish.way == Wish.Way.NOT:
            return []
        return sorted(self.addresses, key=lambda address: address.channel != wish.way)

    def when(self, notice: Notice, moment: datetime) -> When:
        """When to tell a notice that is due at that moment."""
        wish = self.wishes.get(notice.kind)
        at_once = wish is not None and wish.at_once
        return when(self.day, moment, urgent=notice.urgent, at_once=at_once)


def reach_of(people: Iterable[UUID], shop: Shop) -> dict[UUID, Reach]:
    """How each of these people is reached by a shop, whose zone is for those who named none.

    A gateway is its own shop's: it sends nothing that another shop tells the same person.
    """
    ids = set(people)
    habits = {}
    for each in Habits.objects.filter(person__in=ids):
        habits[each.person_id] = each
    reaches = {}
    for person in ids:
        reaches[person] = Reach(_day(habits.get(person), shop.time_zone))
    for wish in Wish.objects.filter(person__in=ids):
        reaches[wish.person_id].wishes[wish.kind] = wish
    open_to = Address.objects.filter(person__in=ids, paused_at=None, ended_at=None)
    for address in open_to.filter(Q(gateway=None) | Q(gateway__shop=shop)):
        reaches[address.person_id].addresses.append(address)
    return reaches


def _day(habits: Habits | None, zone: str) -> Day:
    if habits is None:
        return Day(ZoneInfo(zone))
    hours = (habits.quiet_from, habits.quiet_to, habits.digest_at)
    return Day(ZoneInfo(habits.time_zone), *hours)


def deliveries_plan(notices: Sequence[Notice], rules: NoticeRules, now: datetime) -> None:
    """Put what was given into the outbox. Within the transaction that gave it."""
    if not notices:
        return
    person_ids = []
    for notice in notices:
        person_ids.append(notice.person_id)
    reach = reach_of(person_ids, rules.shop)
    alone = []
    for notice in notices:
        mine = reach[notice.person_id]
        addresses = mine.addresses_for(notice.kind)
        timing = mine.when(notice, now)
        if notice.urgent:
            notice.escalate_at = timing.at + timedelta(minutes=rules.acknowledge_minutes)
            notice.save(update_fields=["escalate_at"])
        if not addresses:
            continue
        if timing.digest:
            _join_digest(notice, addresses[0], mine, timing.at)
        else:
            alone.append((notice, _delivery(notice, addresses[0], timing.at)))
    _put(alone)
    lanes = set()
    for _, d in alone:
        if d.due_at <= now:
            lanes.add((d.lane, d.channel))
    if lanes:
        transaction.on_commit(lambda: outbox_filled.send(sender=Delivery, lanes=lanes))


def deliver_again(notice: Notice, address: Address, at: datetime, step: int) -> None:
    """One more delivery of a notice: over another channel."""
    _put([(notice, _delivery(notice, address, at, step))])


def _delivery(notice: Notice, address: Address, at: datetime, step: int = 0) -> Delivery:
    lane = Lane.ORDINARY
    if notice.kind in BULK:
        lane = Lane.BULK
    return Delivery(
        key=f"{notice.id}:{notice.times_given}:{step}",
        person_id=notice.person_id,
        shop_id=notice.shop_id,
        address=address,
        channel=address.channel,
        step=step,
        lane=Lane.URGENT if notice.urgent else lane,
        due_at=at,
    )


def _put(pairs: Sequence[tuple[Notice, Delivery]]) -> None:
    """Add deliveries that are not there yet, each of its one notice."""
    deliveries = []
    for _, delivery in pairs:
        deliveries.append(delivery)
    Delivery.objects.bulk_create(deliveries, ignore_conflicts=True)
    keys = {}
    for notice, delivery in pairs:
        keys[delivery.key] = notice
    through = Delivery.notices.through
    kept = Delivery.objects.filter(key__in=keys).values_list("id", "key")
    links = []
    for identity, key in kept:
        links.append(through(delivery_id=identity, notice_id=keys[key].id))
    through.objects.bulk_create(links, ignore_conflicts=True)


def _join_digest(notice: Notice, address: Address, reach: Reach, slot: datetime) -> None:
    """Add a notice to the one message of a day that a shop sends a person: its office reads
    what became of it.

    The message is locked first: one that a worker has taken already, or sent, is left as it
    is, and the notice goes with the next.
    """
    for _ in range(3):
        fresh = _delivery(notice, address, slot)
        key = f"digest:{address.id}:{notice.shop_id}:{slot.isoformat()}"
        given = {
            "person_id": notice.person_id,
            "shop_id": notice.shop_id,
            "address": address,
            "channel": address.channel,
            "digest": True,
            "lane": Lane.BULK,
            "due_at": fresh.due_at,
        }
        with transaction.atomic():
            made, _created = Delivery.objects.get_or_create(key=key, defaults=given)
            kept = Delivery.objects.select_for_update(of=("self",)).get(id=made.id)
            if kept.state == State.MOOT:
                kept.state, kept.due_at = State.DUE, slot
                kept.save(update_fields=["state", "due_at"])
            if kept.state == State.DUE and not kept.lease and kept.tries == 0:
                kept.notices.add(notice)
                return
        slot = reach.day.next_digest(slot)


def person_name(person: Person) -> str:
    """How a message addresses a person."""
    return person.get_full_name() or person.username
