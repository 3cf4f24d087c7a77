"""The permit was applied for long ago and is not issued."""

from collections.abc import Iterator
from datetime import timedelta

from notifications.facts import JobFacts
from notifications.messages.permits import NOT_ISSUED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("permit not issued", NoticeKind.PERMIT)
def permit_not_issued(facts: JobFacts) -> Iterator[Due]:
    """To the office, so many days after the application as the shop waits."""
    permit = facts.permit
    if permit is None or permit.issued_on is not None or permit.closed_on is not None:
        return
    wait = facts.rules.permit_wait_days
    text = NOT_ISSUED(
        job=str(facts.job), day=permit.applied_on, n=wait, authority=str(facts.job.authority)
    )
    at = facts.morning(permit.applied_on + timedelta(days=wait))
    yield from due_for(facts.office, permit.applied_on, text, at)
