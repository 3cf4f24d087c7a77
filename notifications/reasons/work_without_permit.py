"""Work was begun without an issued permit."""

from collections.abc import Iterator

from notifications.facts import JobFacts
from notifications.messages.permits import WORK_WITHOUT
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("work without permit", NoticeKind.PERMIT)
def work_without_permit(facts: JobFacts) -> Iterator[Due]:
    """To the office and the crew lead, from the first work recorded until the permit is issued."""
    day = None
    if facts.permit is not None:
        day = facts.permit.issued_on
    until = None
    if day is not None:
        until = facts.midnight(day)
    if facts.work_began is None or (until is not None and until <= facts.work_began):
        return
    text = WORK_WITHOUT(job=str(facts.job))
    who = [*facts.office, *facts.leads]
    yield from due_for(who, "work", text, facts.work_began, until=until)
