"""The inspector's answer was recorded."""

from collections.abc import Iterator

from config.messages.message import Joined
from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import OF_AREA, RESULT
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("result recorded", NoticeKind.INSPECTION)
def result_recorded(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, area by area."""
    for each in facts.inspections:
        last = each.last
        if last is None or last.happening != Happening.HELD:
            continue
        words = []
        for a in each.answers:
            words.append(OF_AREA(area=str(a.area), answer=facts.answer(a.answer)))
        if each.job_answer is not None:
            words.append(facts.answer(each.job_answer.answer))
        text = RESULT(
            job=str(facts.job),
            inspection=each.title,
            reference=last.reference,
            answers=Joined(tuple(words), "; "),
        )
        at = last.recorded_at
        yield from due_for(
            facts.office_leads_and_builder, last.id, text, at, until=at + TOLD_WITHIN
        )
