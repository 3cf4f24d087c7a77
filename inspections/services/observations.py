"""Writes of what somebody saw."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from uuid import UUID

from django.utils import timezone

from inspections.models import Item, Observation, Outcome
from inspections.services.facts import changing_facts
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person, moment_of
from jobs.moments import seen_by_now


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
) -> Observation:
    """Record what somebody saw of an item, as its facts stand now.

    `fingerprint` is that of the facts which they were shown; FactsChanged when those are others
    by now, since a pass belongs to what was seen.

    Raises NothingToPass when the figures are short or a fact is missing: only a changed
    house lifts those, and a tick that cannot count would look as if it did.
    """
    given = {"outcome": outcome, "note": note, "seen_at": seen_at}
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
) -> list[Observation]:
    """Record the same of several items of one job, as after a walk through a room: all or none.

    `shown` are the fingerprints of the facts that were looked at, where they are known. Raises
    NothingToPass and FactsChanged as `item_observe` does.
    """
    if not items:
        return []
    job = items[0].job
    require_role(actor, job.shop, *SITE_ROLES)
    now = timezone.now()
    if seen_at is not None:
        seen_at = seen_by_now(seen_at, now, job.time_zone, moment_of(job.id))
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
