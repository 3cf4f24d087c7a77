"""An area was cleared: the contractor may cover it."""

from collections.abc import Iterator

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import Kind
from notifications.reason import Due, reason, told


@reason("area cleared", Kind.COVER)
def area_cleared(facts: JobFacts) -> Iterator[Due]:
    """Each live clearance, to the contractor's people and the office."""
    for clearance in facts.clearances:
        if clearance.live:
            text = f"{facts.job}, {clearance.area}: may be covered ({clearance.reference})."
            at = clearance.issued_at
            people = [*facts.contractor, *facts.office]
            yield from told(people, clearance.id, text, at, until=at + TOLD_WITHIN)
