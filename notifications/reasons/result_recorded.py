"""The inspector's answer was recorded."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
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
            words.append(f"{a.area}: {a.get_answer_display()}")
        if each.job_answer is not None:
            words.append(each.job_answer.get_answer_display())
        said = "; ".join(words)
        text = f"{facts.job}: {each.title}, reference {last.reference}. {said}."
        at = last.recorded_at
        yield from due_for(
            facts.office_leads_and_builder, last.id, text, at, until=at + TOLD_WITHIN
        )
