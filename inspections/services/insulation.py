"""Writes of the insulation that somebody chose for the outside walls."""

from django.db import transaction
from django.utils import timezone

from inspections.checker.check import check
from inspections.models import InsulationChoice
from inspections.selectors import house_of, latest_revision
from inspections.services.facts import changing_facts, lock_job
from inspections.services.houses import drawn_digest, insulation_words, items_follow
from jobs.access import require_role
from jobs.models import Job, Person, Role


def insulation_choose(
    actor: Person, *, job: Job, kind: str, vapour_barrier: bool
) -> InsulationChoice:
    """Record what fills the outside walls, one of INSULATIONS; draw what rests on it anew.

    The last choice counts before what a house file says of it.
    """
    require_role(actor, job.shop, Role.OFFICE, Role.CREW_LEAD, Role.BUILDER)
    with transaction.atomic():
        lock_job(job.id)
        with changing_facts(actor, "insulation chosen", job.id) as change:
            choice = InsulationChoice(
                job=job,
                kind=kind,
                vapour_barrier=vapour_barrier,
                recorded_by=actor,
                recorded_at=timezone.now(),
            )
            choice.full_clean()
            choice.save()
            change.detail = {"kind": kind, "vapour_barrier": vapour_barrier}
            if (revision := latest_revision(job)) is not None:
                areas = {}
                for area in change.areas:
                    areas[area.code] = area
                house, book = house_of(revision)
                findings = check(house, book)
                items_follow(job, areas, findings)
                change.detail |= {"revision": revision.number, "items": drawn_digest(findings)}
                change.detail["insulation"] = insulation_words(house)
    return choice
