"""Writes of notices: what follows is given once, what no longer follows is moot."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from jobs.models import Job, Person, Shop
from notifications.facts import job_facts
from notifications.models import Notice, NoticeRules
from notifications.reason import Due, Reason, reasons, shop_reasons
from notifications.shopfacts import shop_facts

Key = tuple[UUID, str, str]
"""Person, reason, occasion: what a notice is given once for."""


@dataclass(frozen=True, slots=True)
class Followed:
    """What a look at the facts changed, and when the clock will change more."""

    given: list[Notice]
    moot: int
    next_at: datetime | None


@transaction.atomic
def notices_follow(job_id: UUID, now: datetime | None = None) -> Followed:
    """Give every notice that a job's facts give now and that was not given; mark what is moot.

    Safe to repeat: the database keeps one notice per person, reason and occasion.
    """
    facts = job_facts(job_id)
    drawn = [(reason, due) for reason in reasons().values() for due in reason.due(facts)]
    return keep(facts.job.shop, facts.job, drawn, now or timezone.now())


@transaction.atomic
def shop_follow(shop_id: UUID, now: datetime | None = None) -> Followed:
    """The same for what follows from a shop as a whole; keeps when it is due next."""
    now = now or timezone.now()
    rules = NoticeRules.objects.select_for_update(no_key=True).get(shop=shop_id)
    facts = shop_facts(shop_id, now)
    drawn = [(reason, due) for reason in shop_reasons().values() for due in reason.due(facts)]
    followed = keep(facts.shop, None, drawn, now)
    rules.next_at = followed.next_at
    rules.save(update_fields=["next_at"])
    return followed


def shops_due() -> list[UUID]:
    """Shops whose next moment has come, or was never drawn."""
    due = Q(next_at__isnull=True) | Q(next_at__lte=timezone.now())
    return list(NoticeRules.objects.filter(due).order_by("shop").values_list("shop", flat=True))


def keep(
    shop: Shop, job: Job | None, drawn: Iterable[tuple[Reason, Due]], now: datetime
) -> Followed:
    """Keep what was drawn for a job, or for a shop itself, beside what was given before."""
    standing: dict[Key, tuple[Reason, Due]] = {}
    ahead: list[datetime] = []
    for reason, due in drawn:
        if due.stands(now):
            standing[(due.person.id, reason.id, due.occasion)] = (reason, due)
        ahead += [moment for moment in (due.at, due.until) if moment is not None and moment > now]
    kept = {
        (notice.person_id, notice.reason, notice.occasion): notice
        for notice in Notice.objects.filter(shop=shop, job=job)
    }
    fresh = [_notice(shop, job, *standing[key], now) for key in standing if key not in kept]
    Notice.objects.bulk_create(fresh, ignore_conflicts=True)
    gone = [n.id for key, n in kept.items() if n.moot_at is None and key not in standing]
    back = [n.id for key, n in kept.items() if n.moot_at is not None and key in standing]
    if gone:
        Notice.objects.filter(id__in=gone).update(moot_at=now)
    if back:
        Notice.objects.filter(id__in=back).update(moot_at=None)
    return Followed(fresh, len(gone), min(ahead, default=None))


def _notice(shop: Shop, job: Job | None, reason: Reason, due: Due, now: datetime) -> Notice:
    return Notice(
        person=due.person,
        shop=shop,
        job=job,
        visit_id=due.visit_id,
        reason=reason.id,
        kind=reason.kind,
        occasion=due.occasion,
        urgent=due.urgent,
        text=_within(due.text, 500),
        body=due.body,
        due_at=due.at,
        given_at=now,
    )


def _within(text: str, length: int) -> str:
    """The text on one line, cut at a word with a mark when it is longer."""
    line = " ".join(text.split())
    if len(line) <= length:
        return line
    return line[: length - 2].rsplit(" ", 1)[0] + " …"


def notice_see(actor: Person, *, notice_id: UUID) -> None:
    """The person has seen a notice of their own; anybody else's is left as it is."""
    Notice.objects.filter(id=notice_id, person=actor, seen_at__isnull=True).update(
        seen_at=timezone.now()
    )
