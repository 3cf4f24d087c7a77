"""The inspector accepted the job at a finish or final inspection."""

from collections.abc import Iterator

from inspections.models import Answer, InspectionKind
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("accepted", NoticeKind.FINISH)
def accepted(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder."""
    for each in facts.inspections:
        said = each.job_answer
        if (
            each.inspection.kind not in (InspectionKind.FINISH, InspectionKind.FINAL)
            or said is None
        ):
            continue
        if said.answer != Answer.NOT_ACCEPTED:
            kind, answer = each.inspection.get_kind_display(), said.get_answer_display()
            text = f"{facts.job}: the {kind} is {answer}, {said.reference}."
            at = said.recorded_at
            yield from due_for(
                facts.office_leads_and_builder, each.inspection.id, text, at, until=at + TOLD_WITHIN
            )
