"""Writes of what other trades reported."""

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.models import TradeReport
from inspections.services.facts import changing_facts
from jobs.access import require_role
from jobs.models import Job, Person, Role


def trade_report(actor: Person, *, job: Job, trade: str, done: bool = True) -> TradeReport:
    """Record another trade's word that its rough-in is done, or that it no longer is."""
    require_role(actor, job.shop, Role.OFFICE, Role.CREW_LEAD, Role.CONTRACTOR)
    if trade not in job.shop.trades:
        known = ", ".join(job.shop.trades) or "none"
        raise ValidationError(f"{trade!r} is not a trade that is asked for; there are: {known}.")
    with changing_facts(actor, "trade reported", job.id) as change:
        change.detail = {"trade": trade, "done": done}
        return TradeReport.objects.create(
            job=job, trade=trade, done=done, recorded_by=actor, recorded_at=timezone.now()
        )
