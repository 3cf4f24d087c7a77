"""Writes of what somebody saw."""

from collections.abc import Sequence
from datetime import datetime

from django.utils import timezone

from inspections.models import Item, Observation, Outcome
from inspections.services.facts import changing_facts
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person


class NothingToPass(Exception):
    """A tick on an item that a tick cannot pass; the text says what can."""


def item_observe(
    actor: Person,
    *,
    item: Item,
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
) -> Observation:
    """Record what somebody saw of an item, as its facts stand now.

    Raises NothingToPass when the figures are short or a fact is missing: only a changed
    house lifts those, and a tick that cannot count would look as if it did.
    """
    (seen,) = items_observe(actor, items=[item], outcome=outcome, note=note, seen_at=seen_at)
    return seen


def items_observe(
    actor: Person,
    *,
    items: Sequence[Item],
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
) -> list[Observation]:
    """Record the same of several items of one job, as after a walk through a room: all or none.

    Raises NothingToPass as `item_observe` does.
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
            refuse_empty_pass(item, outcome)
        named = ", ".join(sorted(str(item) for item in fresh))
        change.detail = {"item": named, "outcome": outcome, "note": note}
        return [
            Observation.objects.create(
                item=item,
                outcome=outcome,
                note=note,
                fingerprint=item.fingerprint,
                seen_by=actor,
                seen_at=seen_at or now,
                recorded_at=now,
            )
            for item in fresh
        ]


def refuse_empty_pass(item: Item, outcome: Outcome) -> None:
    """Raise NothingToPass for a tick on what a tick cannot pass."""
    if not item.current:
        raise NothingToPass(
            "This item is no longer part of the house; look at the checklist again."
        )
    if outcome == Outcome.PASS and item.verdict in ("short", "unknown"):
        remedy = item.finding.get("remedy") or "record what was changed or measured"
        raise NothingToPass(f"A tick cannot pass this: {remedy}")
