"""An inspection was cancelled."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import CANCELLED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason, with_note
from notifications.reasons.inspection_rescheduled import begins_soon


@reason("inspection cancelled", NoticeKind.INSPECTION)
def inspection_cancelled(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder when it was booked; urgent when it was near."""
    for each in facts.inspections:
        last = each.last
        window = facts.booked_window(each)
        if last is None or last.happening != Happening.CANCELLED or window is None:
            continue
        text = CANCELLED(job=str(facts.job), inspection=each.title, window=facts.window(window))
        yield from due_for(
            facts.office_leads_and_builder,
            last.id,
            with_note(text, last.note),
            last.recorded_at,
            until=last.recorded_at + TOLD_WITHIN,
            urgent=begins_soon(each),
            inspection_id=each.inspection.id,
        )
