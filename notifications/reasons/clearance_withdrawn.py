"""A clearance was withdrawn: whoever might be covering the area must stop."""

from collections.abc import Iterator
from datetime import datetime

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("clearance withdrawn", NoticeKind.COVER)
def clearance_withdrawn(facts: JobFacts) -> Iterator[Due]:
    """Each withdrawn clearance, until the area is cleared again.

    To the builder's people, the crew lead and the office.
    """
    cleared_again = set()
    for each in facts.clearances:
        if each.live:
            cleared_again.add(each.area_id)
    for clearance in facts.clearances:
        at = clearance.withdrawn_at
        if at is not None and clearance.area_id not in cleared_again:
            text = f"{facts.job}, {clearance.area}: do not cover. {clearance.withdrawn_because}"
            people = [*facts.builder, *facts.leads, *facts.office]
            urgent = _may_be_covering(facts, at)
            until = at + TOLD_WITHIN
            yield from due_for(people, clearance.id, text, at, until=until, urgent=urgent)


def _may_be_covering(facts: JobFacts, at: datetime) -> bool:
    """Whether somebody may be hanging board that day.

    They may not before the day that was named for it; without a named day they may.
    """
    board_from = facts.job.drywall_on
    return board_from is None or board_from <= facts.day_of(at)
