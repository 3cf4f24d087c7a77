"""What goes on when nobody answers: to the next address, then to the next person.

An urgent notice waits as long as the shop set for a sign that it was seen. Then it goes to the
person's next address; after the last of them to somebody of the office who was not told yet.
"""

from datetime import datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from config.messages.kept import message_of
from config.messages.stored import to_json
from jobs.models import Membership, Person, Role
from notifications.messages.shops import HANDED_ON
from notifications.models import Address, Delivery, Notice, NoticeRules
from notifications.services.planning import deliver_again, deliveries_plan, reach_of


def escalations_due() -> list[UUID]:
    """Urgent notices that waited long enough for a sign."""
    due = Notice.objects.filter(escalate_at__lte=timezone.now())
    return list(due.order_by("escalate_at", "id").values_list("id", flat=True))


@transaction.atomic
def escalate(notice_id: UUID) -> None:
    """Take the next step for a notice, unless it was seen or is moot by now."""
    now = timezone.now()
    notice = Notice.objects.select_for_update(of=("self",)).get(id=notice_id)
    if notice.escalate_at is None or notice.escalate_at > now:
        return
    notice.escalate_at = None
    if notice.seen_at is None and notice.moot_at is None:
        rules = NoticeRules.objects.select_related("shop").get(shop=notice.shop_id)
        address = _next_address(notice, rules)
        if address is not None:
            deliver_again(notice, address, now, notice.deliveries.count())
            notice.escalate_at = now + timedelta(minutes=rules.acknowledge_minutes)
        elif (person := _next_person(notice, rules)) is not None:
            _hand_on(notice, person, rules, now)
    notice.save(update_fields=["escalate_at"])


def _next_address(notice: Notice, rules: NoticeRules) -> Address | None:
    """The person's next address for the notice that was not tried."""
    mine = reach_of([notice.person_id], rules.shop)[notice.person_id]
    tried = set(notice.deliveries.values_list("address", flat=True))
    for a in mine.addresses_for(notice.kind):
        if a.id not in tried:
            return a
    return None


def _next_person(notice: Notice, rules: NoticeRules) -> Person | None:
    """Somebody of the office, the owner last, who was not told of it."""
    told = Notice.objects.filter(
        Q(id=_root(notice)) | Q(handed_from=_root(notice)) | _same_occasion(notice)
    ).values("person")
    office = Membership.objects.filter(
        shop=notice.shop_id, role=Role.OFFICE, person__is_active=True
    ).exclude(person__in=told)
    ordered = sorted(office.select_related("person"), key=lambda m: m.person_id == rules.owner_id)
    if ordered:
        return ordered[0].person
    return None


def _root(notice: Notice) -> UUID:
    return notice.handed_from_id or notice.id


def _same_occasion(notice: Notice) -> Q:
    occasion = notice.occasion.removesuffix(f" for {_root(notice).hex}")
    return Q(shop=notice.shop_id, job=notice.job_id, reason=notice.reason, occasion=occasion)


def _hand_on(notice: Notice, person: Person, rules: NoticeRules, now: datetime) -> None:
    """The same notice for the next person, who is told whom it was for."""
    first = notice.handed_from or notice
    name = first.person.get_full_name() or first.person.username
    handed = Notice.objects.create(
        person=person,
        shop_id=notice.shop_id,
        job_id=notice.job_id,
        inspection_id=notice.inspection_id,
        reason=notice.reason,
        kind=notice.kind,
        occasion=f"{first.occasion[:70]} for {first.id.hex}",
        urgent=True,
        text=to_json(HANDED_ON(person=name, notice=message_of(first.text))),
        body=first.body,
        due_at=notice.due_at,
        given_at=now,
        handed_from=first,
    )
    deliveries_plan([handed], rules, now)


@transaction.atomic
def try_next_address(delivery: Delivery) -> None:
    """After a delivery that was given up: the person's next address, at once."""
    now = timezone.now()
    rules = NoticeRules.objects.select_related("shop").get(shop=delivery.shop_id)
    for notice in delivery.notices.filter(moot_at__isnull=True, seen_at__isnull=True):
        address = _next_address(notice, rules)
        if address is not None:
            deliver_again(notice, address, now, notice.deliveries.count())
