"""Everything is released and hooked up: the finish can begin."""

from collections.abc import Iterator

from inspections.models import InspectionKind
from inspections.standing.stages import Stage
from notifications.facts import JobFacts
from notifications.messages.cover import FINISH_READY, TRIM_READY
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("finish ready", NoticeKind.FINISH)
def finish_ready(facts: JobFacts) -> Iterator[Due]:
    """To office and crew lead, from the last cover release or the hookup on."""
    if facts.job.standing.stage != Stage.FINISH or facts.coming(InspectionKind.FINISH):
        return
    moments = []
    for each in facts.cover_releases:
        if each.live:
            moments.append(each.issued_at)
    for each in facts.milestones.values():
        moments.append(each.recorded_at)
    ready = FINISH_READY
    if facts.in_us:
        ready = TRIM_READY
    text = ready(job=str(facts.job))
    who = [*facts.office, *facts.leads]
    yield from due_for(who, "finish", text, max(moments))
