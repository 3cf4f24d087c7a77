"""Writes of what was reported done once for a whole job."""

from collections.abc import Sequence
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Joined, Listed, Value
from config.messages.stored import to_json
from inspections.conclusions.areas import today_at
from inspections.houses.circuits import HouseCircuit, circuits_of
from inspections.models import Answer, InspectionKind, JobAnswer, MilestoneReached
from inspections.overview.progress import milestone_against
from inspections.selectors import latest_revision
from inspections.services import refusal_messages as words
from inspections.services.answers import told_of
from inspections.services.consequences import OutOfOrder
from inspections.services.facts import changing_facts, lock_job
from inspections.standing.contradictions import Reached, of_milestone
from inspections.standing.stages import Milestone
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Job, Person, Role
from jobs.moments import ANY_DAY, PAST_DAY

INSPECTED = {Milestone.HOOKUP: InspectionKind.HOOKUP, Milestone.FINAL: InspectionKind.FINAL}
"""Milestones that the authority has an inspection for."""


def milestone_record(
    actor: Person,
    *,
    job: Job,
    milestone: Milestone,
    reached_on: date,
    reference: str = "",
    circuits: Sequence[str] = (),
    temporary_until: date | None = None,
    insist: bool = True,
) -> MilestoneReached:
    """Record the hookup authorised with its circuits, the temporary service gone, or the final
    accepted with its certificate.

    `circuits` are ids of circuits in the latest house. Raises ValidationError for one that the
    house does not have, for a hookup without any, and for what contradicts the record. What the
    authority did is a fact, also where something that must come first is not on record: without
    `insist` that raises OutOfOrder, and with it the record keeps what spoke against it.
    """
    require_role(actor, job.shop, Role.OFFICE)
    _refuse_unfit(milestone, reference, hookup_facts=bool(circuits or temporary_until))
    refuse_outside(
        timezone.now(),
        job.time_zone,
        reached_on=(PAST_DAY, reached_on),
        temporary_until=(ANY_DAY, temporary_until),
    )
    with transaction.atomic():
        lock_job(job.id)
        with changing_facts(actor, f"{milestone} recorded", job.id) as change:
            _refuse_contradictions(job, milestone, reached_on, temporary_until)
            live = None
            if milestone == Milestone.HOOKUP:
                live = _live(job, circuits)
            speaks = milestone_against(job, milestone, reached_on)
            if speaks and not insist:
                raise OutOfOrder(speaks)
            reached = MilestoneReached(
                job=job,
                milestone=milestone,
                reference=reference,
                circuits=[each.id for each in live or ()],
                live=None if live is None else [each.kept() for each in live],
                temporary_until=temporary_until,
                reached_on=reached_on,
                recorded_by=actor,
                recorded_at=change.now,
            )
            reached.full_clean()
            reached.save()
            change.detail = {
                "reached_on": reached_on,
                "reference": reference,
                "circuits": reached.live_words,
                "temporary_until": temporary_until,
            }
            if speaks:
                change.detail["although"] = [to_json(each) for each in speaks]
    return reached


def _refuse_unfit(milestone: Milestone, reference: str, *, hookup_facts: bool) -> None:
    if milestone != Milestone.HOOKUP and hookup_facts:
        raise ValidationError(said_later(words.OF_THE_HOOKUP()))
    if milestone in INSPECTED and not reference.strip():
        raise ValidationError(said_later(words.MILESTONE_REFERENCE[milestone]()))


def _live(job: Job, chosen: Sequence[str]) -> list[HouseCircuit]:
    """The circuits of the latest house by their ids, in the order of the house."""
    known = {each.id: each for each in circuits_of(latest_revision(job))}
    if not known:
        raise ValidationError(said_later(words.NO_CIRCUITS()))
    if strange := [each for each in dict.fromkeys(chosen) if each not in known]:
        there: list[Value] = []
        for each in known.values():
            there.append(words.CIRCUIT(circuit=each.id, label=each.label))
        unknown = words.UNKNOWN_CIRCUITS(
            n=len(strange), unknown=Listed(tuple(strange)), known=Joined(tuple(there), "; ")
        )
        raise ValidationError(said_later(unknown))
    if not chosen:
        raise ValidationError(said_later(words.CHOOSE_CIRCUITS()))
    return [each for each in known.values() if each.id in chosen]


def _refuse_contradictions(
    job: Job, milestone: Milestone, on: date, temporary_until: date | None
) -> None:
    on_record = {}
    for each in MilestoneReached.objects.filter(job=job):
        on_record[each.milestone] = each
    before, hookup = on_record.get(milestone), on_record.get(Milestone.HOOKUP)
    stands = bool(hookup and hookup.temporary_until) and Milestone.TEMPORARY_GONE not in on_record
    still = job.deficiencies.filter(accepted_at=None).select_related("area")
    still_open = []
    for each in still:
        still_open.append(told_of(each))
    reached = Reached(
        milestone,
        on,
        before=(before.reached_on, before.reference) if before else None,
        temporary_until=temporary_until,
        temporary_stands=stands,
        refused_on=_refused_on(job, milestone),
        still_open=still_open,
    )
    if faults := list(of_milestone(reached)):
        raise ValidationError([said_later(each) for each in faults])


def _refused_on(job: Job, milestone: Milestone) -> date | None:
    """The day of the latest inspection for it, when the inspector did not accept it then."""
    if milestone not in INSPECTED:
        return None
    said = JobAnswer.objects.filter(inspection__job=job, inspection__kind=INSPECTED[milestone])
    latest = said.order_by("recorded_at", "id").last()
    if latest is None or latest.answer != Answer.NOT_ACCEPTED:
        return None
    return today_at(job, latest.recorded_at)
