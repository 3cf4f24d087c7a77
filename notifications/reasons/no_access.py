"""The inspector came and could not get in."""

from collections.abc import Iterator

from config.messages.message import Joined, Value
from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import FEE, NO_ACCESS
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason, with_note


@reason("no access", NoticeKind.INSPECTION)
def no_access(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, until it is rescheduled; with the fee if any."""
    for each in facts.inspections:
        last = each.last
        if last is not None and last.happening == Happening.NO_ACCESS:
            text: Value = NO_ACCESS(job=str(facts.job), inspection=each.title)
            if fee := facts.job.authority.reinspection_fee:
                text = Joined((text, FEE(fee=fee)))
            text = with_note(text, last.note)
            at = last.recorded_at
            yield from due_for(
                facts.office_leads_and_builder, last.id, text, at, until=at + TOLD_WITHIN
            )
