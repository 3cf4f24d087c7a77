"""Writes of what the inspector said at an inspection."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later
from inspections.conclusions.areas import area_digest
from inspections.models import (
    CONCEALING,
    Acceptance,
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
    JobAnswer,
)
from inspections.overview.inspections import inspection_now
from inspections.services import refusal_messages as words
from inspections.services.events import event_of
from inspections.services.facts import changing_facts
from inspections.services.references import refuse_used_elsewhere
from inspections.standing.contradictions import (
    AnswerGiven,
    DeficiencyFacts,
    Spoken,
    Word,
    of_answer,
)
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Area, Person, Role
from jobs.moments import ANY_DAY


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

    An inspection that lets areas be covered is answered area by area, any other for the job as a
    whole. The inspection must have been booked and begun. Deficiencies that were corrected may be
    accepted at it; what is accepted with deficiencies says what they are.
    """
    require_role(actor, inspection.job.shop, Role.OFFICE)
    now, answers = timezone.now(), answers or {}
    with changing_facts(actor, "inspection answered", inspection.job_id, now=now) as change:
        held = event_of(actor, inspection, Happening.HELD, now, reference=reference)
        _refuse_answers(inspection, answers, answer, called)
        _refuse_contradictions(inspection, answers, answer, called, lifted)
        refuse_used_elsewhere(inspection.job, reference)
        held.save()
        locked = {}
        for area in change.areas:
            locked[area.id] = area
        _lift(inspection, lifted, now)
        _call(inspection, called, now)
        for area, said in answers.items():
            _accept(actor, inspection, locked[area.id], said, reference, now)
        if answer is not None:
            _answer_job(actor, inspection, answer, reference, now)
        change.detail = {
            "inspection": inspection.id,
            "answers": {area.code: said for area, said in answers.items()},
            "answer": answer,
            "reference": reference,
            "called": [each.what for each in called],
            "lifted": [each.id for each in lifted],
        }
    return inspection


def _refuse_answers(
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    answer: Answer | None,
    called: Sequence[Called],
) -> None:
    if inspection.kind not in CONCEALING:
        if answer is None or answers:
            raise ValidationError(said_later(words.ONE_ANSWER()))
        for each in called:
            if each.area.job_id != inspection.job_id:
                raise ValidationError(said_later(words.WRITTEN_UP_ELSEWHERE()))
        return
    covered = set(inspection.areas.values_list("id", flat=True))
    answered = set()
    for area in answers:
        _refuse_not_covered(area, covered)
        answered.add(area.id)
    for each in called:
        _refuse_not_covered(each.area, covered)
    if answered != covered or answer is not None:
        raise ValidationError(said_later(words.EACH_AREA()))


def _refuse_not_covered(area: Area, covered: Collection[UUID]) -> None:
    if area.id not in covered:
        raise ValidationError(said_later(words.NOT_INSPECTED(area=area.name)))


def _refuse_contradictions(
    inspection: Inspection,
    answers: Mapping[Area, Answer],
    answer: Answer | None,
    called: Sequence[Called],
    lifted: Sequence[Deficiency],
) -> None:
    """Refuse an answer of which two parts cannot both be true, with every one that is so."""
    if any(each.job_id != inspection.job_id for each in lifted):
        raise ValidationError(said_later(words.CORRECTED_ELSEWHERE()))
    on_record = inspection.job.deficiencies.select_related("area")
    marked = []
    for each in lifted:
        marked.append(each.id)
    starts = inspection_now(inspection).starts
    written_up = []
    for each in called:
        written_up.append(
            DeficiencyFacts(each.area.code, each.area.name, each.what, each.where, each.due_on)
        )
    marked_now = []
    for each in on_record.filter(id__in=marked):
        marked_now.append(told_of(each))
    still_open = []
    for each in on_record.filter(accepted_at=None).exclude(id__in=marked):
        still_open.append(told_of(each))
    said = AnswerGiven(
        words=_words(answers, answer),
        written_up=written_up,
        lifted=marked_now,
        still_open=still_open,
        begun_on=starts.date() if starts else None,
        ends_the_job=inspection.kind == InspectionKind.FINAL,
    )
    if faults := list(of_answer(said)):
        raise ValidationError([said_later(each) for each in faults])


def _words(answers: Mapping[Area, Answer], answer: Answer | None) -> list[Spoken]:
    if answer is not None:
        return [Spoken(Word(answer))]
    spoken: list[Spoken] = []
    for area, word in answers.items():
        spoken.append(Spoken(Word(word), area.code, area.name))
    return spoken


def told_of(deficiency: Deficiency) -> DeficiencyFacts:
    """A deficiency as it stands on record."""
    return DeficiencyFacts(
        deficiency.area.code,
        deficiency.area.name,
        deficiency.what,
        deficiency.where,
        deficiency.due_on,
        corrected=deficiency.corrected_at is not None,
        accepted=deficiency.accepted_at is not None,
    )


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
        basis=Acceptance.Basis.INSPECTION,
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
            called_at_inspection=inspection,
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
        each.accepted_at, each.accepted_at_inspection = now, inspection
        each.save(update_fields=["accepted_at", "accepted_at_inspection"])
