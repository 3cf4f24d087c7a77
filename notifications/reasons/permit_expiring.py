"""The permit ends soon."""

from collections.abc import Iterator
from datetime import timedelta

from notifications.facts import JobFacts
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
        text = (
            f"{facts.job}: the permit is good until {end}, {days} days or fewer from now. "
            f"Ask {facts.job.authority} for an extension or a visit."
        )
        at = facts.morning(end - timedelta(days=days))
        until = facts.morning(end - timedelta(days=following))
        if following < 0:
            until = facts.midnight(end + timedelta(days=1))
        yield from due_for(facts.office, f"{end} {days}", text, at, until=until)
