"""The inspector accepted the job at a finish or final visit."""

from collections.abc import Iterator

from inspections.models import Answer
from inspections.models import InspectionKind as Visit
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("accepted", NoticeKind.FINISH)
def accepted(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder."""
    for each in facts.visits:
        said = each.job_answer
        if each.visit.kind not in (Visit.FINISH, Visit.FINAL) or said is None:
            continue
        if said.answer != Answer.NOT_ACCEPTED:
            kind, answer = each.visit.get_kind_display(), said.get_answer_display()
            text = f"{facts.job}: the {kind} is {answer}, {said.reference}."
            at = said.recorded_at
            yield from due_for(facts.everyone, each.visit.id, text, at, until=at + TOLD_WITHIN)
