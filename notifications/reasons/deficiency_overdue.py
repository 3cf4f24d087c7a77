"""A deficiency was not corrected by its day."""

from collections.abc import Iterator
from datetime import timedelta

from notifications.facts import JobFacts
from notifications.messages.inspections import OVERDUE
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("deficiency overdue", NoticeKind.DEFICIENCY)
def deficiency_overdue(facts: JobFacts) -> Iterator[Due]:
    """Each that is not corrected, to the crew lead and the office, the morning after its day."""
    for each in facts.deficiencies:
        if each.corrected_at is not None or each.due_on is None:
            continue
        text = OVERDUE(job=str(facts.job), area=str(each.area), day=each.due_on, what=each.what)
        at = facts.morning(each.due_on + timedelta(days=1))
        who = [*facts.leads, *facts.office]
        yield from due_for(who, f"{each.id} {each.due_on}", text, at)
