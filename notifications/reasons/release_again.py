"""Nothing holds an area any more whose release was withdrawn: it waits for the office alone."""

from collections.abc import Iterator
from datetime import datetime

from inspections.models import CoverRelease
from notifications.facts import JobFacts
from notifications.messages.cover import RELEASE_AGAIN
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("release again", NoticeKind.COVER)
def release_again(facts: JobFacts) -> Iterator[Due]:
    """To the office, once for each time that the last trouble of such an area is over."""
    latest = {}
    for each in facts.cover_releases:
        latest[each.area_id] = each
    for area in facts.areas:
        withdrawn = latest.get(area.id)
        if withdrawn is None or withdrawn.live or area.standing.hold_count:
            continue
        since = _troubled_at(facts, withdrawn)
        text = RELEASE_AGAIN(job=str(facts.job), area=str(area))
        yield from due_for(facts.office, f"{withdrawn.id} {since.isoformat()}", text, since)


def _troubled_at(facts: JobFacts, withdrawn: CoverRelease) -> datetime:
    """When something last stood against the area, as far as it tells this time from the next."""
    area_id = withdrawn.area_id
    moments = [withdrawn.withdrawn_at, facts.area_troubled.get(area_id)]
    for each in facts.deficiencies:
        if each.area_id == area_id:
            moments.append(each.called_at)
    if withdrawn.answer is not None:
        moments.append(withdrawn.answer.recorded_at)
    known = []
    for moment in moments:
        if moment is not None:
            known.append(moment)
    return max(known)
