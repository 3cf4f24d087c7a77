"""The inspector came and could not get in."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("no access", NoticeKind.INSPECTION)
def no_access(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, until the inspection is moved; with the fee if any."""
    for each in facts.inspections:
        last = each.last
        if last is not None and last.happening == Happening.NO_ACCESS:
            fee = facts.job.authority.reinspection_fee
            text = (
                f"{facts.job}: {each.title}, the inspector had no access. {last.note} "
                f"Book it again{f' (fee {fee})' if fee else ''}."
            )
            at = last.recorded_at
            yield from due_for(
                facts.office_leads_and_builder, last.id, text, at, until=at + TOLD_WITHIN
            )
