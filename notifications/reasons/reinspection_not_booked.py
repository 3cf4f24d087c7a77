"""All that was written up in an area is corrected, and nobody requested the reinspection."""

from collections.abc import Iterator
from datetime import datetime

from config.messages.message import Joined, Value
from inspections.models import Deficiency
from notifications.facts import InspectionFacts, JobFacts
from notifications.messages.inspections import ALL_CORRECTED, FEE
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("re-inspection not booked", NoticeKind.DEFICIENCY)
def reinspection_not_booked(facts: JobFacts) -> Iterator[Due]:
    """To the office, from the last correction on, while no inspection of the area is coming."""
    waiting: dict[object, list[Deficiency]] = {}
    for each in facts.deficiencies:
        if each.accepted_at is None:
            waiting.setdefault(each.area_id, []).append(each)
    for area_id, called in waiting.items():
        at = _all_corrected_at(called)
        if at is None:
            continue
        if any(each.on_its_way and _may_accept(each, area_id) for each in facts.inspections):
            continue
        text: Value = ALL_CORRECTED(job=str(facts.job), area=str(called[0].area), n=len(called))
        if fee := facts.job.authority.reinspection_fee:
            text = Joined((text, FEE(fee=fee)))
        yield from due_for(facts.office, f"{area_id} {at.isoformat()}", text, at)


def _all_corrected_at(called: list[Deficiency]) -> datetime | None:
    """When the last of them was corrected; None while one is not."""
    moments = []
    for each in called:
        if each.corrected_at is None:
            return None
        moments.append(each.corrected_at)
    return max(moments)


def _may_accept(inspection: InspectionFacts, area_id: object) -> bool:
    """Whether the inspection is to the area, or to the whole job."""
    return not inspection.areas or area_id in {area.id for area in inspection.areas}
