"""Writes to a job's permit."""

from datetime import date

from inspections.services.facts import changing_facts
from jobs.access import require_role
from jobs.models import Job, Permit, Person, Role


def permit_apply(actor: Person, *, job: Job, applied_on: date) -> Permit:
    """Record that the permit was applied for."""
    require_role(actor, job.shop, Role.OFFICE)
    with changing_facts(job.id):
        return Permit.objects.create(job=job, applied_on=applied_on)


def permit_issue(
    actor: Person, *, permit: Permit, number: str, issued_on: date, expires_on: date | None = None
) -> Permit:
    """Record that the authority issued the permit, with its number."""
    require_role(actor, permit.job.shop, Role.OFFICE)
    with changing_facts(permit.job_id):
        permit.number, permit.issued_on, permit.expires_on = number, issued_on, expires_on
        permit.full_clean()
        permit.save()
    return permit
