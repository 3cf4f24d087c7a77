"""Writes of what other trades reported."""

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.models import TradeReport
from inspections.services.facts import changing_facts
from jobs.access import require_role
from jobs.models import Area, Job, Person, Role


def trade_report(
    actor: Person, *, job: Job, trade: str, done: bool = True, area: Area | None = None
) -> TradeReport:
    """Record another trade's word that its work is done, or that it no longer is.

    A rough-in that the shop asks for is of the whole job; a layer of the cover is of an area.
    """
    require_role(actor, job.shop, Role.OFFICE, Role.CREW_LEAD, Role.BUILDER)
    _refuse(job, trade, area)
    with changing_facts(actor, "trade reported", job.id) as change:
        change.detail = {"trade": trade, "done": done, "area": area and area.code}
        return TradeReport.objects.create(
            job=job,
            area=area,
            trade=trade,
            done=done,
            recorded_by=actor,
            recorded_at=timezone.now(),
        )


def _refuse(job: Job, trade: str, area: Area | None) -> None:
    if trade in job.shop.layers:
        if area is None or area.job_id != job.id:
            raise ValidationError(f"Name the area of this job whose {trade} is done.")
    elif trade not in job.shop.trades:
        known = ", ".join([*job.shop.trades, *job.shop.layers]) or "none"
        raise ValidationError(f"{trade!r} is not a trade that is asked for; there are: {known}.")
    elif area is not None:
        raise ValidationError(f"The rough-in of {trade} is reported for the whole job.")
