"""A cover release was withdrawn: whoever might be covering the area must stop."""

from collections.abc import Iterator
from datetime import datetime

from config.messages.kept import message_of
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.cover import WITHDRAWN
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("cover release withdrawn", NoticeKind.COVER)
def cover_release_withdrawn(facts: JobFacts) -> Iterator[Due]:
    """Each withdrawn cover release, until the area is released again.

    To the builder's people, the crew lead and the office.
    """
    released_again = set()
    for each in facts.cover_releases:
        if each.live:
            released_again.add(each.area_id)
    for cover_release in facts.cover_releases:
        at = cover_release.withdrawn_at
        if at is not None and cover_release.area_id not in released_again:
            text = WITHDRAWN(
                job=str(facts.job),
                area=str(cover_release.area),
                because=message_of(cover_release.withdrawn_because),
            )
            people = [*facts.builder, *facts.leads, *facts.office]
            urgent = _may_be_covering(facts, at)
            until = at + TOLD_WITHIN
            yield from due_for(people, cover_release.id, text, at, until=until, urgent=urgent)


def _may_be_covering(facts: JobFacts, at: datetime) -> bool:
    """Whether somebody may be hanging drywall that day.

    They may not before the day that was named for it; without a named day they may.
    """
    board_from = facts.job.drywall_on
    return board_from is None or board_from <= facts.day_of(at)
