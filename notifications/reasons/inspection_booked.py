"""An inspection was booked: its window, to whoever must keep it free."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import BOOKED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("inspection booked", NoticeKind.INSPECTION)
def inspection_booked(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, while that is the last thing that happened to it."""
    for each in facts.inspections:
        last = each.last
        if last is not None and last.happening == Happening.BOOKED:
            text = BOOKED(job=str(facts.job), inspection=each.title, window=facts.window(last))
            at = last.recorded_at
            assert last.ends_at is not None  # it has a window
            until = min(at + TOLD_WITHIN, last.ends_at)
            who = facts.office_leads_and_builder
            yield from due_for(
                who, last.id, text, at, until=until, inspection_id=each.inspection.id
            )
