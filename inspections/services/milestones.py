"""Writes of what was reported done once for a whole job."""

from datetime import date

from django.utils import timezone

from inspections.models import MilestoneReached
from inspections.services.facts import changing_facts
from inspections.stages import Milestone
from jobs.access import require_role
from jobs.models import Job, Person, Role


def milestone_record(
    actor: Person, *, job: Job, milestone: Milestone, reached_on: date, reference: str = ""
) -> MilestoneReached:
    """Record that the hookup was authorised, the finish done or the final accepted."""
    require_role(actor, job.shop, Role.OFFICE)
    with changing_facts(actor, f"{milestone} recorded", job.id) as change:
        change.detail = {"reached_on": reached_on, "reference": reference}
        reached = MilestoneReached(
            job=job,
            milestone=milestone,
            reference=reference,
            reached_on=reached_on,
            recorded_by=actor,
            recorded_at=timezone.now(),
        )
        reached.full_clean()
        reached.save()
        return reached
