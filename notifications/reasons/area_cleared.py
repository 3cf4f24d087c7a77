"""An area was cleared: the builder may cover it."""

from collections.abc import Iterator

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("area cleared", NoticeKind.COVER)
def area_cleared(facts: JobFacts) -> Iterator[Due]:
    """Each live clearance, to the builder's people and the office."""
    for clearance in facts.clearances:
        if clearance.live:
            text = f"{facts.job}, {clearance.area}: may be covered ({clearance.reference})."
            at = clearance.issued_at
            people = [*facts.builder, *facts.office]
            yield from due_for(people, clearance.id, text, at, until=at + TOLD_WITHIN)
