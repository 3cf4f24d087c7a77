"""The permit ends soon."""

from collections.abc import Iterator
from datetime import timedelta

from notifications.facts import JobFacts
from notifications.messages.permits import EXPIRING
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("permit expiring", NoticeKind.PERMIT)
def permit_expiring(facts: JobFacts) -> Iterator[Due]:
    """To the office, each of the shop's days before the end; the latest of them alone stands."""
    end = None
    if facts.permit_facts:
        end = facts.permit_facts.last_day
    if end is None or facts.done:
        return
    steps = facts.rules.permit_days
    for days, following in zip(steps, [*steps[1:], -1], strict=True):
        text = EXPIRING(job=str(facts.job), day=end, n=days, authority=str(facts.job.authority))
        at = facts.morning(end - timedelta(days=days))
        until = facts.morning(end - timedelta(days=following))
        if following < 0:
            until = facts.midnight(end + timedelta(days=1))
        yield from due_for(facts.office, f"{end} {days}", text, at, until=until)
