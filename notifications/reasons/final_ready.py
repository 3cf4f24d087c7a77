"""Every item of the finish has passed: the final can be requested."""

from collections.abc import Iterator

from config.messages.message import Joined, Value
from inspections.models import InspectionKind
from inspections.standing.stages import Milestone, Stage
from notifications.facts import JobFacts
from notifications.messages.cover import FINISH_DONE, TEMPORARY_FIRST, TRIM_DONE
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("final ready", NoticeKind.FINISH)
def final_ready(facts: JobFacts) -> Iterator[Due]:
    """To the office, while no final inspection is on its way; says what must be gone first."""
    if facts.job.standing.stage != Stage.FINAL or facts.done or facts.coming(InspectionKind.FINAL):
        return
    hookup = facts.milestones.get(Milestone.HOOKUP)
    still = hookup is not None and hookup.temporary_until is not None
    still = still and Milestone.TEMPORARY_GONE not in facts.milestones
    done = FINISH_DONE
    if facts.in_us:
        done = TRIM_DONE
    text: Value = done(job=str(facts.job), authority=str(facts.job.authority))
    if still:
        text = Joined((text, TEMPORARY_FIRST()))
    yield from due_for(facts.office, "final", text, max(facts.area_changed.values()))
