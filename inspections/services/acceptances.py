"""Writes of what an authority said without an inspection: a waiver, or the time that passed."""

from collections.abc import Callable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later
from inspections.conclusions.areas import area_digest
from inspections.models import CONCEALING, Acceptance, Answer, Happening, Inspection
from inspections.services import refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.services.references import refuse_used_elsewhere
from jobs.access import require_role
from jobs.models import Area, Person, Role
from jobs.moments import at_place


def acceptance_waive(actor: Person, *, area: Area, reference: str) -> Acceptance:
    """Record that the authority waived its inspection of an area."""
    return _without_inspection(actor, area, Acceptance.Basis.WAIVER, reference)


def acceptance_elapse(
    actor: Person, *, area: Area, inspection: Inspection, reference: str, declared_by: str
) -> Acceptance:
    """Record that nobody came in the time stated and that the licence holder declared so.

    Refused unless the shop turned this on for the authority, and the time has passed.
    """
    if area.job.authority.elapsed_hours is None:
        raise ValidationError(said_later(words.NO_LAPSE(authority=str(area.job.authority))))
    if inspection.kind not in CONCEALING or not inspection.areas.filter(id=area.id).exists():
        raise ValidationError(said_later(words.NOT_FOR_AREA(area=area.name)))
    if not declared_by.strip():
        raise ValidationError(said_later(words.NO_DECLARANT()))

    def check(now: datetime) -> None:
        _refuse_elapsed(area, inspection, now)

    return _without_inspection(actor, area, Acceptance.Basis.ELAPSED, reference, declared_by, check)


def _refuse_elapsed(area: Area, inspection: Inspection, now: datetime) -> None:
    """Refuse time that has not passed, or that the authority's word has overtaken."""
    last = inspection.events.last()
    window = inspection.events.filter(ends_at__isnull=False).last()
    if last is None or last.happening != Happening.NOBODY_CAME or window is None:
        raise ValidationError(said_later(words.SOMEBODY_CAME()))
    later = Acceptance.objects.filter(area=area, recorded_at__gt=last.recorded_at)
    if said := later.order_by("recorded_at", "id").last():
        since = words.ANSWERED_SINCE(area=area.name, reference=said.reference)
        raise ValidationError(said_later(since))
    hours = area.job.authority.elapsed_hours
    assert window.ends_at is not None  # it was asked so
    assert hours is not None  # without a time stated nothing elapses
    due = window.ends_at + timedelta(hours=hours)
    if now < due:
        zone = area.job.time_zone
        local = at_place(due, ZoneInfo(zone))
        raise ValidationError(said_later(words.NOT_ELAPSED(moment=local, zone=zone)))


def _without_inspection(
    actor: Person,
    area: Area,
    basis: str,
    reference: str,
    declared_by: str = "",
    check: Callable[[datetime], None] = lambda _: None,
) -> Acceptance:
    """Write it; `check` refuses by the facts as they are under the lock."""
    require_role(actor, area.job.shop, Role.OFFICE)
    now = timezone.now()
    action = f"area accepted: {Acceptance.Basis(basis).label}"[:60]
    with changing_facts(actor, action, area.job_id, area_ids=[area.id], now=now) as change:
        check(now)
        refuse_used_elsewhere(area.job, reference)
        acceptance = Acceptance(
            area=change.area,
            basis=basis,
            answer=Answer.ACCEPTED,
            reference=reference,
            declared_by=declared_by,
            rests_on=area_digest(change.area),
            recorded_by=actor,
            recorded_at=now,
        )
        acceptance.full_clean()
        acceptance.save()
        change.detail = {"area": area.code, "basis": basis, "reference": reference}
        change.detail["declared_by"] = declared_by
        return acceptance
