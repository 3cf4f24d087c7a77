"""Writes to a job's permit."""

from collections.abc import Callable, Mapping
from contextlib import nullcontext
from datetime import date
from types import MappingProxyType
from typing import Any

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later
from inspections.services import refusal_messages as words
from inspections.services.consequences import withdrawing_nothing
from inspections.services.facts import changing_facts
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Job, Permit, Person, Role
from jobs.moments import ANY_DAY, PAST_DAY

DAYS = {"issued_on": PAST_DAY, "expires_on": ANY_DAY, "closed_on": PAST_DAY}
"""Which days of a permit may lie ahead."""


def permit_apply(
    actor: Person, *, job: Job, applied_on: date, holder: str = "", scope: str = ""
) -> Permit:
    """Record that the permit was applied for, by whom and for what."""
    require_role(actor, job.shop, Role.OFFICE)
    refuse_outside(timezone.now(), job.time_zone, applied_on=(PAST_DAY, applied_on))
    with changing_facts(actor, "permit applied for", job.id) as change:
        if before := Permit.objects.filter(job=job).first():
            raise ValidationError(said_later(words.APPLIED_ALREADY(day=before.applied_on)))
        permit = Permit(job=job, applied_on=applied_on, holder=holder, scope=scope)
        permit.full_clean()
        permit.save()
        change.detail = {"applied_on": applied_on, "holder": holder, "scope": scope}
        return permit


def permit_issue(
    actor: Person, *, permit: Permit, number: str, issued_on: date, expires_on: date | None = None
) -> Permit:
    """Record that the authority issued the permit, with its number."""
    facts = {"number": number, "issued_on": issued_on, "expires_on": expires_on}

    def check(fresh: Permit) -> None:
        if issued_on < fresh.applied_on:
            raise ValidationError(said_later(words.ISSUED_TOO_EARLY(day=fresh.applied_on)))
        _refuse_ended_before(issued_on, expires_on)

    return _permit_change(actor, permit, "permit issued", facts, check)


def _refuse_ended_before(issued_on: date, expires_on: date | None) -> None:
    if expires_on and expires_on < issued_on:
        raise ValidationError(said_later(words.ENDS_TOO_EARLY(day=issued_on)))


def permit_amend(actor: Person, *, permit: Permit, scope: str) -> Permit:
    """Record that the scope was amended."""
    return _permit_change(actor, permit, "permit scope amended", {"scope": scope})


def permit_extend(
    actor: Person, *, permit: Permit, expires_on: date, reference: str = ""
) -> Permit:
    """Record that the authority extended the permit, by its reference where it gave one."""

    def check(fresh: Permit) -> None:
        if fresh.issued_on is None:
            raise ValidationError(said_later(words.NOT_ISSUED_TO_EXTEND()))
        if fresh.expires_on and expires_on <= fresh.expires_on:
            raise ValidationError(said_later(words.GOOD_ALREADY(day=fresh.expires_on)))
        _refuse_ended_before(fresh.issued_on, expires_on)

    noted = {}
    if reference.strip():
        noted = {"reference": reference.strip()}
    facts = {"expires_on": expires_on}
    return _permit_change(actor, permit, "permit extended", facts, check, noted)


def permit_correct(
    actor: Person,
    *,
    permit: Permit,
    expires_on: date | None,
    because: str,
    withdraws: bool = True,
) -> Permit:
    """Correct the day to which the permit is good, with the reason; None: it does not expire.

    The record keeps the day that stood before. `withdraws` says that a cover release may be
    withdrawn by it: without that WouldWithdraw is raised, and nothing is recorded.
    """
    if not because.strip():
        raise ValidationError({"because": said_later(words.CORRECTED_WHY())})

    def check(fresh: Permit) -> None:
        if fresh.issued_on is None:
            raise ValidationError(said_later(words.NOT_ISSUED_TO_CORRECT()))
        if expires_on == fresh.expires_on:
            same = words.SAME_NO_EXPIRY()
            if expires_on:
                same = words.SAME_EXPIRY(day=expires_on)
            raise ValidationError(said_later(same))
        _refuse_ended_before(fresh.issued_on, expires_on)

    noted = {"because": because.strip()}
    facts = {"expires_on": expires_on}
    return _permit_change(
        actor, permit, "permit day corrected", facts, check, noted, withdraws=withdraws
    )


def permit_close(actor: Person, *, permit: Permit, closed_on: date) -> Permit:
    """Record that the authority closed the permit: the job is done with."""

    def check(fresh: Permit) -> None:
        if fresh.issued_on is None:
            raise ValidationError(said_later(words.NOT_ISSUED_TO_CLOSE()))
        if closed_on < fresh.issued_on:
            raise ValidationError(said_later(words.CLOSED_TOO_EARLY(day=fresh.issued_on)))

    return _permit_change(actor, permit, "permit closed", {"closed_on": closed_on}, check)


def _permit_change(
    actor: Person,
    permit: Permit,
    action: str,
    facts: dict[str, Any],
    check: Callable[[Permit], None] = lambda _: None,
    noted: Mapping[str, str] = MappingProxyType({}),
    *,
    withdraws: bool = True,
) -> Permit:
    """Write facts of a permit; `check` refuses them by the row as it is under the lock.

    What is `noted` goes into the record alone.
    """
    require_role(actor, permit.job.shop, Role.OFFICE)
    given = {}
    for name, kind in DAYS.items():
        given[name] = (kind, facts.get(name))
    refuse_outside(timezone.now(), permit.job.time_zone, **given)
    with changing_facts(actor, action, permit.job_id) as change:
        locked = Permit.objects.select_for_update(no_key=True, of=("self",))
        fresh = locked.select_related("job__shop").get(id=permit.id)
        if fresh.closed_on is not None:
            raise ValidationError(said_later(words.CLOSED(day=fresh.closed_on)))
        check(fresh)
        change.detail = {**facts, **noted}
        change.before = {name: getattr(fresh, name) for name in facts}
        for name, value in facts.items():
            setattr(fresh, name, value)
        fresh.full_clean()
        with nullcontext() if withdraws else withdrawing_nothing(change.areas, change.now):
            fresh.save(update_fields=list(facts))
    return fresh
