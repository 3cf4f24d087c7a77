"""An area's rough-in is ready and no inspection is on its way."""

from collections.abc import Iterator
from datetime import datetime

from inspections.models import CONCEALING
from inspections.standing.holds import HoldReason as HoldReason
from jobs.models import Area
from notifications.facts import JobFacts
from notifications.messages.inspections import READY
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

INSPECTION_LIFTS = {HoldReason.ACCEPTANCE, HoldReason.CHANGED}


@reason("rough-in ready", NoticeKind.INSPECTION)
def rough_in_ready(facts: JobFacts) -> Iterator[Due]:
    """To the office, once nothing but the inspector's answer holds the area."""
    for area in facts.areas:
        held_by = set()
        for hold in area.standing.holds:
            held_by.add(hold["reason"])
        at = facts.area_changed.get(area.id)
        if at is None or not held_by or not held_by <= INSPECTION_LIFTS:
            continue
        at = max([at, *_to_be_seen_again(facts, area)])
        if facts.coming(*CONCEALING, area=area) or _called(facts, area):
            continue
        text = READY(job=str(facts.job), area=str(area), authority=str(facts.job.authority))
        yield from due_for(facts.office, f"{area.id} {at.isoformat()}", text, at)


def _to_be_seen_again(facts: JobFacts, area: Area) -> list[datetime]:
    """When somebody answered a withdrawal so that the area has to be inspected again."""
    recorded: list[datetime] = []
    for each in facts.cover_releases:
        answer = each.answer
        if each.area_id == area.id and answer and answer.inspect_again:
            recorded.append(answer.recorded_at)
    return recorded


def _called(facts: JobFacts, area: Area) -> bool:
    """Whether deficiencies are open there: then the inspection again is another reason."""
    for d in facts.deficiencies:
        if d.area_id == area.id and d.accepted_at is None:
            return True
    return False
