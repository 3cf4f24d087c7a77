"""The inspector wrote up a deficiency."""

from collections.abc import Iterator

from config.messages.message import Joined, Value, WeekDay
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import CORRECT_BY, WRITTEN_UP, WRITTEN_UP_AT
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("deficiency called", NoticeKind.DEFICIENCY)
def deficiency_called(facts: JobFacts) -> Iterator[Due]:
    """Each, to the crew lead and the office, while it is not corrected."""
    for each in facts.deficiencies:
        if each.corrected_at is not None:
            continue
        place = {"job": str(facts.job), "area": str(each.area)}
        text: Value = WRITTEN_UP(what=each.what, **place)
        if each.where:
            text = WRITTEN_UP_AT(what=each.what, where=each.where, **place)
        if each.due_on:
            text = Joined((text, CORRECT_BY(day=WeekDay(each.due_on))))
        at = each.called_at
        until = at + TOLD_WITHIN
        yield from due_for([*facts.leads, *facts.office], each.id, text, at, until=until)
