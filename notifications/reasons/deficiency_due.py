"""A deficiency is due in two days."""

from collections.abc import Iterator
from datetime import timedelta

from config.messages.message import WeekDay
from notifications.facts import JobFacts
from notifications.messages.inspections import DUE
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

BEFORE = timedelta(days=2)


@reason("deficiency due", NoticeKind.DEFICIENCY)
def deficiency_due(facts: JobFacts) -> Iterator[Due]:
    """Each that is not corrected, to the crew lead and the office, until its day has passed."""
    for each in facts.deficiencies:
        if each.corrected_at is not None or each.due_on is None:
            continue
        text = DUE(
            job=str(facts.job), area=str(each.area), day=WeekDay(each.due_on), what=each.what
        )
        at = facts.morning(each.due_on - BEFORE)
        until = facts.midnight(each.due_on + timedelta(days=1))
        who = [*facts.leads, *facts.office]
        yield from due_for(who, f"{each.id} {each.due_on}", text, at, until=until)
