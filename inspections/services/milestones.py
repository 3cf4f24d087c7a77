"""Writes of what was reported done once for a whole job."""

from collections.abc import Sequence
from datetime import date

from django.core.exceptions import ValidationError
from django.utils import timezone

from inspections.models import MilestoneReached
from inspections.services.facts import changing_facts
from inspections.stages import Milestone
from jobs.access import require_role
from jobs.models import Job, Person, Role
from jobs.moments import ANY_DAY, PAST_DAY, refuse_outside


def milestone_record(
    actor: Person,
    *,
    job: Job,
    milestone: Milestone,
    reached_on: date,
    reference: str = "",
    circuits: Sequence[str] = (),
    temporary_until: date | None = None,
) -> MilestoneReached:
    """Record the hookup authorised with its circuits, the temporary service gone, the finish
    done, or the final accepted with its certificate.
    """
    require_role(actor, job.shop, Role.OFFICE)
    if milestone != Milestone.HOOKUP and (circuits or temporary_until):
        raise ValidationError("Circuits and a temporary service belong to the hookup.")
    if milestone in (Milestone.HOOKUP, Milestone.FINAL) and not reference.strip():
        raise ValidationError(f"Give the authority's reference for the {milestone}.")
    now = timezone.now()
    refuse_outside(
        now,
        job.time_zone,
        reached_on=(PAST_DAY, reached_on),
        temporary_until=(ANY_DAY, temporary_until),
    )
    with changing_facts(actor, f"{milestone} recorded", job.id, now=now) as change:
        change.detail = {
            "reached_on": reached_on,
            "reference": reference,
            "circuits": list(circuits),
            "temporary_until": temporary_until,
        }
        _refuse_final(job, milestone)
        reached = MilestoneReached(
            job=job,
            milestone=milestone,
            reference=reference,
            circuits=list(circuits),
            temporary_until=temporary_until,
            reached_on=reached_on,
            recorded_by=actor,
            recorded_at=now,
        )
        reached.full_clean()
        reached.save()
        return reached


def _refuse_final(job: Job, milestone: Milestone) -> None:
    """A temporary service that is to go must be gone before the final is accepted."""
    if milestone != Milestone.FINAL:
        return
    reached = {each.milestone: each for each in job.milestones.all()}
    hookup = reached.get(Milestone.HOOKUP)
    if hookup and hookup.temporary_until and Milestone.TEMPORARY_GONE not in reached:
        raise ValidationError("The temporary service is not recorded as removed.")
