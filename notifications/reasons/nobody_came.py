"""The inspector did not come to a booked inspection."""

from collections.abc import Iterator

from inspections.models import Happening
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.inspections import NOBODY_CAME
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason, with_note


@reason("nobody came", NoticeKind.INSPECTION)
def nobody_came(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder: what was to be seen stays open."""
    for each in facts.inspections:
        last = each.last
        if last is not None and last.happening == Happening.NOBODY_CAME:
            said = NOBODY_CAME(job=str(facts.job), inspection=each.title)
            text = with_note(said, last.note)
            at = last.recorded_at
            yield from due_for(
                facts.office_leads_and_builder, last.id, text, at, until=at + TOLD_WITHIN
            )
