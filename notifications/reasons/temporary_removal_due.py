"""The day by which the temporary service must be gone."""

from collections.abc import Iterator
from datetime import timedelta

from config.messages.message import WeekDay
from inspections.standing.stages import Milestone
from notifications.facts import JobFacts
from notifications.messages.cover import TEMPORARY
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

DAYS = (7, 0)


@reason("temporary removal due", NoticeKind.HOOKUP)
def temporary_removal_due(facts: JobFacts) -> Iterator[Due]:
    """To office and crew lead a week before, and on the day until it is recorded as gone."""
    hookup = facts.milestones.get(Milestone.HOOKUP)
    gone = Milestone.TEMPORARY_GONE in facts.milestones
    if hookup is None or hookup.temporary_until is None or gone:
        return
    day = hookup.temporary_until
    text = TEMPORARY(job=str(facts.job), day=WeekDay(day))
    who = [*facts.office, *facts.leads]
    week, last = (facts.morning(day - timedelta(days=days)) for days in DAYS)
    yield from due_for(who, f"{day} 7", text, week, until=last)
    yield from due_for(who, f"{day} 0", text, last)
