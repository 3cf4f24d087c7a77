"""Writes of what somebody saw."""

from collections.abc import Mapping, Sequence
from contextlib import nullcontext
from datetime import datetime
from uuid import UUID

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.models import Item, Observation, Outcome
from inspections.services.consequences import withdrawing_nothing
from inspections.services.facts import changing_facts
from inspections.undo import why_not_undone
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person


class NothingToPass(Exception):
    """A tick on an item that a tick cannot pass; the text says what can."""


class FactsChanged(Exception):
    """What was looked at is not what the house says now; the text says to look again."""


def item_observe(
    actor: Person,
    *,
    item: Item,
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
    fingerprint: str = "",
    withdraws: bool = True,
) -> Observation:
    """Record what somebody saw of an item, as its facts stand now.

    `fingerprint` is that of the facts which they were shown; FactsChanged when those are others
    by now, since a pass belongs to what was seen.

    `withdraws` says that a cover release may be withdrawn by it: without that WouldWithdraw is
    raised where one would be, with nothing written.

    Raises NothingToPass when the figures are short or a fact is missing: only a changed
    house lifts those, and a tick that cannot count would look as if it did.
    """
    given = {"outcome": outcome, "note": note, "seen_at": seen_at, "withdraws": withdraws}
    shown = {item.id: fingerprint} if fingerprint else {}
    (seen,) = items_observe(actor, items=[item], shown=shown, **given)
    return seen


def items_observe(
    actor: Person,
    *,
    items: Sequence[Item],
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
    shown: Mapping[UUID, str] | None = None,
    withdraws: bool = True,
) -> list[Observation]:
    """Record the same of several items of one job, as after a walk through a room: all or none.

    `shown` are the fingerprints of the facts that were looked at, where they are known. Raises
    NothingToPass, FactsChanged and WouldWithdraw as `item_observe` does.
    """
    if not items:
        return []
    job = items[0].job
    require_role(actor, job.shop, *SITE_ROLES)
    now = timezone.now()
    areas = list({item.area_id for item in items})
    with changing_facts(actor, "item observed", job.id, area_ids=areas, now=now) as change:
        fresh = list(Item.objects.filter(job=job, id__in=[item.id for item in items]))
        for item in fresh:
            if (shown or {}).get(item.id, item.fingerprint) != item.fingerprint:
                raise FactsChanged(
                    f"{item.finding['title']}: the house has changed since this was shown. "
                    "Nothing was recorded; look at it as it is now."
                )
            refuse_empty_pass(item, outcome)
        named = ", ".join(sorted(str(item) for item in fresh))
        change.detail = {"item": named, "outcome": outcome, "note": note}
        with nullcontext() if withdraws else withdrawing_nothing(change.areas, now):
            return [_seen(actor, item, outcome, note, seen_at or now, now) for item in fresh]


def _seen(
    actor: Person, item: Item, outcome: Outcome, note: str, seen_at: datetime, now: datetime
) -> Observation:
    return Observation.objects.create(
        item=item,
        outcome=outcome,
        note=note,
        fingerprint=item.fingerprint,
        seen_by=actor,
        seen_at=seen_at,
        recorded_at=now,
    )


UNDONE = "Undone: recorded by mistake."


def observation_undo(actor: Person, *, observation: Observation) -> Observation:
    """Say that a fault was recorded by mistake: a later look of the same person, which passes.

    Both stay on record, and a release that was withdrawn stays withdrawn until the office gives
    it again. Raises ValidationError once anything else was said of the item, or for somebody else.
    """
    job = observation.item.job
    require_role(actor, job.shop, *SITE_ROLES)
    now = timezone.now()
    areas = [observation.item.area_id]
    with changing_facts(actor, "observation undone", job.id, area_ids=areas, now=now) as change:
        item = Item.objects.get(id=observation.item_id)
        looks = list(item.observations.order_by("recorded_at", "id"))
        if why_not := why_not_undone(item, looks, observation.id, actor.id):
            raise ValidationError(why_not)
        change.detail = {"item": str(item), "undone": observation.id}
        return _seen(actor, item, Outcome.PASS, UNDONE, now, now)


def refuse_empty_pass(item: Item, outcome: Outcome) -> None:
    """Raise NothingToPass for a tick on what a tick cannot pass."""
    if not item.current:
        raise NothingToPass(
            "This item is no longer part of the house; look at the checklist again."
        )
    if outcome == Outcome.PASS and item.verdict in ("short", "unknown"):
        remedy = item.finding.get("remedy") or "record what was changed or measured"
        raise NothingToPass(f"A tick cannot pass this: {remedy}")
