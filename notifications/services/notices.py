"""Writes of notices: what follows is given once, what no longer follows is moot."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from config.messages.stored import to_json
from inspections.conclusions.job_facts import JobRows
from jobs.models import Job, Person, Shop
from jobs.prepared_queries import Prepared
from notifications.facts import jobs_facts
from notifications.models import Delivery, Notice, NoticeRules, State
from notifications.reason import Due, Reason, reasons, shop_reasons
from notifications.services.lists import lists_follow
from notifications.services.planning import deliveries_plan
from notifications.shopfacts import shop_facts

Key = tuple[UUID, str, str]
"""Person, reason, occasion: what a notice is given once for."""

Kept = dict[Key, tuple[UUID, datetime | None]]
"""What was given before: which notice it is, and since when it is moot."""

_OF_JOBS: Prepared[tuple[Any, ...]] = Prepared(
    lambda jobs: (
        Notice.objects.filter(job__in=jobs, handed_from=None)
        .order_by("id")
        .values_list("job", "id", "moot_at", "person", "reason", "occasion")
    )
)


def _have(kept: Kept, notice_id: UUID, moot_at: datetime | None, *key: Any) -> None:
    kept[key] = (notice_id, moot_at)


@dataclass(frozen=True, slots=True)
class Followed:
    """What a look at the facts changed, and when the clock will change more."""

    given: list[Notice]
    moot: int
    next_at: datetime | None


def notices_of(ground: JobRows, now: datetime) -> dict[UUID, Followed]:
    """Give every notice that jobs' facts give now and that was not given; mark what is moot.

    By job, within the transaction that read the ground. Safe to repeat: there is one notice a
    person, reason and occasion.
    """
    kept: dict[UUID | None, Kept] = {}
    for job_id, *notice in _OF_JOBS(ground.jobs):
        _have(kept.setdefault(job_id, {}), *notice)
    followed = {}
    for facts in jobs_facts(ground):
        drawn = []
        for reason in reasons().values():
            for due in reason.due(facts):
                drawn.append((reason, due))
        job = facts.job
        followed[job.id] = keep_notices(facts.rules, job, drawn, now, kept.get(job.id, {}))
    return followed


@transaction.atomic
def shop_follow(shop_id: UUID) -> Followed:
    """The same for what follows from a shop as a whole; keeps when it is due next."""
    locked = NoticeRules.objects.select_for_update(no_key=True, of=("self",))
    rules = locked.select_related("shop").get(shop=shop_id)
    look_at = lists_follow(rules, timezone.now())
    now = timezone.now()  # after what was sent just now
    facts = shop_facts(shop_id, now)
    drawn = []
    for reason in shop_reasons().values():
        for due in reason.due(facts):
            drawn.append((reason, due))
    kept: Kept = {}
    given = Notice.objects.filter(shop=shop_id, job=None, handed_from=None)
    for notice in given.values_list("id", "moot_at", "person", "reason", "occasion"):
        _have(kept, *notice)
    followed = keep_notices(facts.rules, None, drawn, now, kept)
    rules.next_at = min((m for m in (followed.next_at, look_at) if m is not None), default=None)
    rules.save(update_fields=["next_at"])
    return followed


def shop_due(shop_id: UUID) -> None:
    """Something about a shop changed: the next sweep draws what follows from it."""
    NoticeRules.objects.filter(shop=shop_id).update(next_at=timezone.now())


def shops_due() -> list[UUID]:
    """Shops whose next moment has come, or was never drawn."""
    due = Q(next_at__isnull=True) | Q(next_at__lte=timezone.now())
    return list(NoticeRules.objects.filter(due).order_by("shop_id").values_list("shop", flat=True))


def keep_notices(
    rules: NoticeRules,
    job: Job | None,
    drawn: Iterable[tuple[Any, Due]],
    now: datetime,
    kept: Kept,
) -> Followed:
    """Keep what was drawn for a job, or for a shop itself, beside what was given before.

    What is new goes into the outbox; so does what was moot before anybody was told of it and
    stands again.
    """
    drawn = list(drawn)
    standing: dict[Key, tuple[Any, Due]] = {}
    for reason, due in drawn:
        if due.stands(now):
            standing[(due.person.id, reason.id, due.occasion)] = (reason, due)
    fresh = []
    for key in standing:
        if key not in kept:
            fresh.append(_notice(rules.shop, job, *standing[key], now))
    if fresh:
        Notice.objects.bulk_create(fresh, ignore_conflicts=True)
    gone, back = _turned(kept, standing)
    if gone:
        both = Q(id__in=gone) | Q(handed_from__in=gone)
        Notice.objects.filter(both).update(moot_at=now, escalate_at=None)
    untold = []
    if back:
        untold = _stand_again(back)
    if given := [*_made(fresh), *untold]:
        deliveries_plan(given, rules, now)
    return Followed(fresh, len(gone), _next_turn(drawn, now))


def _turned(kept: Kept, standing: Collection[Key]) -> tuple[list[UUID], list[UUID]]:
    """The notices that stand no more, and those that were moot and stand again.

    In one order, whatever order the database gave them in: what is asked of it is compared.
    """
    gone: list[UUID] = []
    back: list[UUID] = []
    for key, (notice_id, moot) in sorted(kept.items(), key=lambda each: each[1][0]):
        if moot is None and key not in standing:
            gone.append(notice_id)
        elif moot is not None and key in standing:
            back.append(notice_id)
    return gone, back


def _next_turn(drawn: Iterable[tuple[Any, Due]], now: datetime) -> datetime | None:
    """When the first of them next begins or ends to stand."""
    ahead = []
    for _, due in drawn:
        for moment in (due.at, due.until):
            if moment is not None and moment > now:
                ahead.append(moment)
    return min(ahead, default=None)


def _made(fresh: Sequence[Notice]) -> list[Notice]:
    """Those of them that are there by now: another settling may have given one first."""
    if not fresh:
        return []
    there = set(Notice.objects.filter(id__in=[n.id for n in fresh]).values_list("id", flat=True))
    notices: list[Notice] = []
    for notice in fresh:
        if notice.id in there:
            notices.append(notice)
    return notices


def _stand_again(ids: Sequence[UUID]) -> list[Notice]:
    """Notices that were moot stand again; those of them that nobody was told or waits to be."""
    Notice.objects.filter(id__in=ids).update(moot_at=None)
    told = Delivery.objects.filter(state__in=(State.SENT, State.DUE), notices__in=ids)
    untold = list(Notice.objects.filter(id__in=ids).exclude(deliveries__in=told))
    for notice in untold:
        notice.times_given += 1
    Notice.objects.bulk_update(untold, ["times_given"])
    return untold


def _notice(shop: Shop, job: Job | None, reason: Reason[Any], due: Due, now: datetime) -> Notice:
    return Notice(
        person=due.person,
        shop=shop,
        job=job,
        inspection_id=due.inspection_id,
        reason=reason.id,
        kind=reason.kind,
        occasion=due.occasion,
        urgent=due.urgent,
        text=to_json(due.text),
        body=[to_json(line) for line in due.body],
        due_at=due.at,
        given_at=now,
    )


def notice_see(actor: Person, *, notice_id: UUID) -> None:
    """The person has seen a notice of their own; anybody else's is left as it is."""
    notice = Notice.objects.filter(id=notice_id, person=actor).first()
    if notice is not None:
        mark_seen(notice)


def mark_seen(notice: Notice) -> None:
    """It was seen: it goes on to nobody, nor does what was handed on from it."""
    now = timezone.now()
    if notice.seen_at is None:
        notice.seen_at = now
        Notice.objects.filter(id=notice.id, seen_at__isnull=True).update(seen_at=now)
    chain = Q(id=notice.id) | Q(handed_from=notice)
    Notice.objects.filter(chain, escalate_at__isnull=False).update(escalate_at=None)
