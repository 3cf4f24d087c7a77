"""Writes of what other trades reported."""

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Listed
from inspections.models import TradeReport
from inspections.services import refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.standing.inspection_messages import trade_name
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
            raise ValidationError(said_later(words.LAYER_AREA(layer=trade_name(trade))))
    elif trade not in job.shop.trades:
        _refuse_unknown(job, trade)
    elif area is not None:
        raise ValidationError(said_later(words.TRADE_WHOLE_JOB(trade=trade_name(trade))))


def _refuse_unknown(job: Job, trade: str) -> None:
    """Raise ValidationError for a trade that the shop does not ask for."""
    known = tuple(map(trade_name, (*job.shop.trades, *job.shop.layers)))
    if not known:
        raise ValidationError(said_later(words.NO_TRADES(trade=trade)))
    raise ValidationError(said_later(words.TRADE_UNKNOWN(trade=trade, known=Listed(known, "or"))))
