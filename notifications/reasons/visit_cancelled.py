"""A visit was cancelled."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason
from notifications.reasons.visit_moved import begins_soon


@reason("visit cancelled", NoticeKind.VISIT)
def visit_cancelled(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder when it was booked; urgent when it was near."""
    for each in facts.visits:
        last = each.last
        window = facts.booked_window(each)
        if last is None or last.happening != Happening.CANCELLED or window is None:
            continue
        text = f"{facts.job}: {each.title} of {facts.window(window)} is cancelled. {last.note}"
        yield from due_for(
            facts.everyone,
            last.id,
            text,
            last.recorded_at,
            until=last.recorded_at + TOLD_WITHIN,
            urgent=begins_soon(each),
            visit_id=each.visit.id,
        )
