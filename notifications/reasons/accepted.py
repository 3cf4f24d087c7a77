"""The inspector accepted the job at a finish or final inspection."""

from collections.abc import Iterator

from inspections.models import Answer, InspectionKind
from inspections.standing.inspection_messages import inspection_kind
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import ACCEPTED
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
            text = ACCEPTED(
                job=str(facts.job),
                inspection=inspection_kind(each.inspection.kind),
                answer=facts.answer(said.answer),
                reference=said.reference,
            )
            at = said.recorded_at
            yield from due_for(
                facts.office_leads_and_builder, each.inspection.id, text, at, until=at + TOLD_WITHIN
            )
