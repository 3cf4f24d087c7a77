"""The construction hookup is authorised, for circuits that are named."""

from collections.abc import Iterator

from config.messages.message import Joined, Listed
from inspections.standing.stages import Milestone
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.cover import HOOKUP, HOOKUP_LIVE, HOOKUP_NONE, HOOKUP_TYPED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("hookup authorised", NoticeKind.HOOKUP)
def hookup_authorised(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder: which circuits may be live, and no others."""
    hookup = facts.milestones.get(Milestone.HOOKUP)
    if hookup is None:
        return
    circuits = Listed(tuple(hookup.live_words))
    if not circuits.of:
        allowed = HOOKUP_NONE()
    elif hookup.as_typed:
        allowed = HOOKUP_TYPED(circuits=circuits)
    else:
        allowed = HOOKUP_LIVE(circuits=circuits)
    text = Joined((HOOKUP(job=str(facts.job), reference=hookup.reference), allowed))
    at = hookup.recorded_at
    yield from due_for(facts.office_leads_and_builder, hookup.id, text, at, until=at + TOLD_WITHIN)
