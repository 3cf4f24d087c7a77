"""Writes of the insulation that somebody chose for the outside walls."""

from django.db import transaction
from django.utils import timezone

from inspections.checker.check import check
from inspections.checker.finding import Finding
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
        before = _findings(job)
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
                items_follow(job, areas, findings, only=_turned_on(before, findings))
                digest = drawn_digest(findings, job)
                change.detail |= {"revision": revision.number, "items": digest}
                change.detail["insulation"] = insulation_words(house)
    return choice


def _findings(job: Job) -> list[Finding]:
    """What today's rules say of the house with the insulation as it was."""
    revision = latest_revision(job)
    if revision is None:
        return []
    return check(*house_of(revision))


def _turned_on(before: list[Finding], after: list[Finding]) -> frozenset[tuple[str, str]]:
    """What the choice changes: a newer program rechecks nothing else in silence."""
    was = {finding.key: finding.fingerprint for finding in before}
    now = {finding.key: finding.fingerprint for finding in after}
    turned = set()
    for finding in (*before, *after):
        if was.get(finding.key) != now.get(finding.key):
            turned.add((finding.rule.id, finding.subject))
    return frozenset(turned)
