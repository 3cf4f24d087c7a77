"""The inspector called a deficiency."""

from collections.abc import Iterator

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("deficiency called", NoticeKind.DEFICIENCY)
def deficiency_called(facts: JobFacts) -> Iterator[Due]:
    """Each, to the crew lead and the office, while it is not corrected."""
    for each in facts.deficiencies:
        if each.corrected_at is not None:
            continue
        due = ""
        if each.due_on:
            due = f" Due by {each.due_on}."
        where = ""
        if each.where:
            where = f" ({each.where})"
        text = f"{facts.job}, {each.area}: the inspector called: {each.what}{where}.{due}"
        at = each.called_at
        until = at + TOLD_WITHIN
        yield from due_for([*facts.leads, *facts.office], each.id, text, at, until=until)
