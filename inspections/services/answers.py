"""Writes of what the inspector said at a visit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.conclusions import area_digest
from inspections.models import (
    CONCEALING,
    Acceptance,
    Answer,
    Deficiency,
    Happening,
    Inspection,
    JobAnswer,
)
from inspections.services.facts import changing_facts
from inspections.services.references import refuse_used_elsewhere
from inspections.services.visits import event_of
from jobs.access import require_role
from jobs.models import Area, Person, Role
from jobs.moments import ANY_DAY, refuse_outside


@dataclass(frozen=True, slots=True)
class Called:
    """A deficiency as the inspector calls it."""

    area: Area
    what: str
    where: str = ""
    rule: str = ""
    section: str = ""
    due_on: date | None = None


def inspection_answer(
    actor: Person,
    *,
    inspection: Inspection,
    answers: Mapping[Area, Answer] | None = None,
    answer: Answer | None = None,
    reference: str,
    called: Sequence[Called] = (),
    lifted: Sequence[Deficiency] = (),
) -> Inspection:
    """Record what the inspector said, what was called and what was accepted.

    A visit that lets areas be covered is answered area by area, any other for the job as a
    whole. The visit must have been booked and begun. Deficiencies that were mended may be
    accepted at it; what is accepted with deficiencies says what they are.
    """
    require_role(actor, inspection.job.shop, Role.OFFICE)
    now, answers = timezone.now(), answers or {}
    with changing_facts(actor, "visit answered", inspection.job_id, now=now) as change:
        _refuse_before_it_began(inspection, now)
        _refuse_answers(inspection, answers, answer, called)
        refuse_used_elsewhere(inspection.job, reference)
        event_of(actor, inspection, Happening.HELD, reference=reference).save()
        locked = {area.id: area for area in change.areas}
        _lift(inspection, lifted, now)
        _call(inspection, called, now)
        for area, said in answers.items():
            _accept(actor, inspection, locked[area.id], said, reference, now)
        if answer is not None:
            _answer_job(actor, inspection, answer, reference, now)
        change.detail = {
            "visit": inspection.id,
            "answers": {area.code: said for area, said in answers.items()},
            "answer": answer,
            "reference": reference,
            "called": [each.what for each in called],
            "lifted": [each.id for each in lifted],
        }
    return inspection


def _refuse_before_it_began(inspection: Inspection, now: datetime) -> None:
    booked = inspection.events.filter(starts_at__isnull=False).last()
    if booked is None:
        raise ValidationError("This visit was never booked, so it cannot have been held.")
    if booked.starts_at > now:
        raise ValidationError("This visit has not begun; its answer is not known yet.")


def _refuse_answers(
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    answer: Answer | None,
    called: Sequence[Called],
) -> None:
    if inspection.kind in CONCEALING:
        _refuse_by_area(inspection, answers, answer, called)
        return
    if answer is None or answers:
        raise ValidationError("Give one answer for the job as a whole.")
    if any(each.area.job_id != inspection.job_id for each in called):
        raise ValidationError("A deficiency is called in an area of the visit's own job.")
    if answer == Answer.WITH_DEFICIENCIES and not called:
        raise ValidationError("Say what the deficiencies are.")


def _refuse_by_area(
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    answer: Answer | None,
    called: Sequence[Called],
) -> None:
    covered = set(inspection.areas.values_list("id", flat=True))
    areas = {area.id for area in answers} | {each.area.id for each in called}
    if areas - covered:
        raise ValidationError("The visit was not for that area.")
    if {area.id for area in answers} != covered or answer is not None:
        raise ValidationError("Give an answer for each area that the visit was for.")
    with_some = {each.area.id for each in called}
    for area, said in answers.items():
        if said == Answer.WITH_DEFICIENCIES and area.id not in with_some:
            raise ValidationError(f"{area.name}: say what the deficiencies are.")


def _accept(
    actor: Person,
    inspection: Inspection,
    area: Area,
    answer: Answer,
    reference: str,
    now: datetime,
) -> None:
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


def _answer_job(
    actor: Person, inspection: Inspection, answer: Answer, reference: str, now: datetime
) -> None:
    said = JobAnswer(
        inspection=inspection,
        answer=answer,
        reference=reference,
        recorded_by=actor,
        recorded_at=now,
    )
    said.full_clean()
    said.save()


def _call(inspection: Inspection, called: Sequence[Called], now: datetime) -> None:
    for each in called:
        refuse_outside(now, inspection.job.time_zone, due_on=(ANY_DAY, each.due_on))
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
