"""Writes of what somebody saw."""

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
    require_role(actor, item.job.shop, *SITE_ROLES)
    now = timezone.now()
    with changing_facts(
        actor, "item observed", item.job_id, area_ids=[item.area_id], now=now
    ) as change:
        fresh = Item.objects.get(id=item.id)
        _refuse_empty_pass(fresh, outcome)
        change.detail = {"item": str(fresh), "outcome": outcome, "note": note}
        return Observation.objects.create(
            item=fresh,
            outcome=outcome,
            note=note,
            fingerprint=fresh.fingerprint,
            seen_by=actor,
            seen_at=seen_at or now,
            recorded_at=now,
        )


def _refuse_empty_pass(item: Item, outcome: Outcome) -> None:
    if not item.current:
        raise NothingToPass(
            "This item is no longer part of the house; look at the checklist again."
        )
    if outcome == Outcome.PASS and item.verdict in ("short", "unknown"):
        remedy = item.finding.get("remedy") or "record what was changed or measured"
        raise NothingToPass(f"A tick cannot pass this: {remedy}")
