"""An inspection was rescheduled."""

from collections.abc import Iterator
from datetime import timedelta

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, InspectionFacts, JobFacts
from notifications.messages.inspections import RESCHEDULED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason, with_note

NEAR = timedelta(hours=24)


@reason("inspection rescheduled", NoticeKind.INSPECTION)
def inspection_rescheduled(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, while it is not moved again.

    Urgent when the old window or the new one begins within a day.
    """
    for each in facts.inspections:
        last = each.last
        if last is not None and last.happening == Happening.MOVED:
            text = RESCHEDULED(job=str(facts.job), inspection=each.title, window=facts.window(last))
            at = last.recorded_at
            assert last.ends_at is not None  # it has a window
            yield from due_for(
                facts.office_leads_and_builder,
                last.id,
                with_note(text, last.note),
                at,
                until=min(at + TOLD_WITHIN, last.ends_at),
                urgent=begins_soon(each),
                inspection_id=each.inspection.id,
            )


def begins_soon(inspection: InspectionFacts) -> bool:
    """Whether the last thing that happened to an inspection changes the coming 24 hours."""
    events = []
    for event in inspection.events:
        if event.starts_at is not None:
            events.append(event)
    windows = events[-2:]
    at = inspection.events[-1].recorded_at
    for event in windows:
        assert event.starts_at is not None
        assert event.ends_at is not None
        if at <= event.ends_at and event.starts_at - at < NEAR:
            return True
    return False
