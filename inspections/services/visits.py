"""Writes of visits: asked for, booked, moved, missed, and what the inspector said."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.conclusions import area_digest, area_holds
from inspections.holds import ROUGH_IN_REASONS
from inspections.models import (
    CONCEALING,
    Acceptance,
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionEvent,
    Kind,
)
from inspections.services.facts import Change, changing_facts
from inspections.services.references import refuse_used_elsewhere
from jobs.access import require_role
from jobs.models import Area, Job, Person, Role

OPEN_TO = {
    Happening.BOOKED: (None,),
    Happening.MOVED: (Happening.BOOKED, Happening.MOVED, Happening.NO_ACCESS),
    Happening.CANCELLED: (None, Happening.BOOKED, Happening.MOVED),
    Happening.NO_ACCESS: (Happening.BOOKED, Happening.MOVED),
    Happening.NOBODY_CAME: (Happening.BOOKED, Happening.MOVED),
    Happening.HELD: (Happening.BOOKED, Happening.MOVED),
}
"""From which state of a visit each thing can happen; None is asked for."""


class ItemsOpen(Exception):
    """A visit is asked for while the crew's own work is not done; it may be insisted on."""


@dataclass(frozen=True, slots=True)
class Called:
    """A deficiency as the inspector calls it."""

    area: Area
    what: str
    where: str = ""
    rule: str = ""
    section: str = ""
    due_on: date | None = None


def inspection_ask(
    actor: Person, *, job: Job, kind: Kind, areas: Sequence[Area] = (), insist: bool = False
) -> Inspection:
    """Ask the authority for a visit.

    A visit that lets areas be covered names them. Raises ItemsOpen while their rough-in is
    not done, unless the person insists, which the record keeps.
    """
    require_role(actor, job.shop, Role.OFFICE)
    now = timezone.now()
    with changing_facts(actor, "visit asked for", job.id, now=now) as change:
        chosen = _chosen_areas(job, kind, areas, change)
        undone = _undone(chosen, now) if kind in CONCEALING else []
        if undone and not insist:
            raise ItemsOpen(
                f"{' '.join(undone)} Ask again and insist if it is wanted all the same."
            )
        inspection = Inspection(
            job=job, kind=kind, asked_at=now, asked_by=actor, insisted=bool(undone)
        )
        inspection.full_clean()
        inspection.save()
        inspection.areas.set(chosen)
        change.detail = {
            "visit": inspection.id,
            "kind": kind,
            "areas": [area.code for area in chosen],
            "insisted": bool(undone),
        }
        return inspection


def _chosen_areas(job: Job, kind: Kind, areas: Sequence[Area], change: Change) -> list[Area]:
    locked = {area.id: area for area in change.areas}
    if not all(area.id in locked for area in areas):
        raise ValidationError("A visit covers areas of its own job alone.")
    if kind in CONCEALING and not areas:
        raise ValidationError("Name the areas that this visit is for.")
    if kind in CONCEALING and not job.authority.takes_parts and len(areas) < len(locked):
        raise ValidationError(f"{job.authority} does not take a rough-in in parts.")
    return [locked[area.id] for area in areas]


def _undone(areas: Sequence[Area], now: datetime) -> list[str]:
    return [
        f"{area.name}: {hold.says}"
        for area in areas
        for hold in area_holds(area, now)
        if hold.reason in ROUGH_IN_REASONS
    ]


def inspection_happen(
    actor: Person,
    *,
    inspection: Inspection,
    happening: Happening,
    starts_at: datetime | None = None,
    ends_at: datetime | None = None,
    reference: str = "",
    note: str = "",
) -> InspectionEvent:
    """Record what happened to a visit, short of its being held.

    A booking or a move carries its window; what cannot follow from where the visit stands
    is refused.
    """
    require_role(actor, inspection.job.shop, Role.OFFICE)
    happening = Happening(happening)
    if happening == Happening.HELD:
        raise ValidationError("Record the answers; that records that the visit was held.")
    with changing_facts(actor, f"visit {happening.label}", inspection.job_id) as change:
        event = _event(actor, inspection, happening, reference=reference, note=note)
        event.starts_at, event.ends_at = starts_at, ends_at
        event.full_clean()
        event.save()
        change.detail = {
            "visit": inspection.id,
            "starts_at": starts_at,
            "ends_at": ends_at,
            "reference": reference,
            "note": note,
        }
        return event


def inspection_answer(
    actor: Person,
    *,
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    reference: str,
    called: Sequence[Called] = (),
    lifted: Sequence[Deficiency] = (),
) -> Inspection:
    """Record what the inspector said of each area, what was called and what was accepted.

    The visit must have been booked and begun. Deficiencies that were mended may be accepted
    at it; an area may be accepted with deficiencies only when some are called there.
    """
    require_role(actor, inspection.job.shop, Role.OFFICE)
    now = timezone.now()
    with changing_facts(actor, "visit answered", inspection.job_id, now=now) as change:
        _refuse_answers(inspection, answers, called, now)
        refuse_used_elsewhere(inspection.job, reference)
        _event(actor, inspection, Happening.HELD, reference=reference).save()
        locked = {area.id: area for area in change.areas}
        _lift(inspection, lifted, now)
        _call(inspection, called, now)
        for area, answer in answers.items():
            _accept(actor, inspection, locked[area.id], answer, reference, now)
        change.detail = {
            "visit": inspection.id,
            "answers": {area.code: answer for area, answer in answers.items()},
            "reference": reference,
            "called": [each.what for each in called],
            "lifted": [each.id for each in lifted],
        }
    return inspection


def _refuse_answers(
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    called: Sequence[Called],
    now: datetime,
) -> None:
    booked = inspection.events.filter(starts_at__isnull=False).last()
    if booked is None:
        raise ValidationError("This visit was never booked, so it cannot have been held.")
    if booked.starts_at > now:
        raise ValidationError("This visit has not begun; its answer is not known yet.")
    covered = set(inspection.areas.values_list("id", flat=True))
    areas = {area.id for area in answers} | {each.area.id for each in called}
    if inspection.kind in CONCEALING and areas - covered:
        raise ValidationError("The visit was not for that area.")
    if inspection.kind in CONCEALING and {area.id for area in answers} != covered:
        raise ValidationError("Give an answer for each area that the visit was for.")
    with_some = {each.area.id for each in called}
    for area, answer in answers.items():
        if (answer == Answer.WITH_DEFICIENCIES) and area.id not in with_some:
            raise ValidationError(f"{area.name}: say what the deficiencies are.")


def _event(
    actor: Person,
    inspection: Inspection,
    happening: Happening,
    *,
    reference: str = "",
    note: str = "",
) -> InspectionEvent:
    last = inspection.events.last()
    state = Happening(last.happening) if last else None
    if state not in OPEN_TO[happening]:
        was = state.label if state else "asked for, not booked"
        raise ValidationError(f"The visit is {was}; it cannot be {happening.label} now.")
    return InspectionEvent(
        inspection=inspection,
        happening=happening,
        reference=reference,
        note=note,
        recorded_by=actor,
        recorded_at=timezone.now(),
    )


def _accept(
    actor: Person,
    inspection: Inspection,
    area: Area,
    answer: Answer,
    reference: str,
    now: datetime,
) -> None:
    if inspection.kind not in CONCEALING:
        return
    acceptance = Acceptance(
        area=area,
        basis=Acceptance.Basis.VISIT,
        inspection=inspection,
        answer=answer,
        reference=reference,
        rests_on=area_digest(area),
        recorded_by=actor,
        recorded_at=now,
    )
    acceptance.full_clean()
    acceptance.save()


def _call(inspection: Inspection, called: Sequence[Called], now: datetime) -> None:
    for each in called:
        deficiency = Deficiency(
            job=inspection.job,
            area=each.area,
            called_at_visit=inspection,
            what=each.what,
            where=each.where,
            rule=each.rule,
            section=each.section,
            due_on=each.due_on,
            called_at=now,
        )
        deficiency.full_clean()
        deficiency.save()


def _lift(inspection: Inspection, lifted: Sequence[Deficiency], now: datetime) -> None:
    for each in Deficiency.objects.filter(id__in=[deficiency.id for deficiency in lifted]):
        if each.job_id != inspection.job_id or each.mended_at is None:
            raise ValidationError(f"'{each.what}' is not recorded as mended on this job.")
        each.accepted_at, each.accepted_at_visit = now, inspection
        each.save(update_fields=["accepted_at", "accepted_at_visit"])
