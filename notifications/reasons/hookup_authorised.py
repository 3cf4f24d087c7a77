"""The construction hookup is authorised, for circuits that are named."""

from collections.abc import Iterator

from inspections.standing.stages import Milestone
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("hookup authorised", NoticeKind.HOOKUP)
def hookup_authorised(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder: which circuits may be live, and no others."""
    hookup = facts.milestones.get(Milestone.HOOKUP)
    if hookup is None:
        return
    circuits = ", ".join(hookup.live_words)
    if not circuits:
        allowed = "No circuit is named: ask which."
    elif hookup.as_typed:
        allowed = f"Live, as typed and not matched to the panel: {circuits}. Ask which those are."
    else:
        allowed = f"Live, these alone: {circuits}."
    text = f"{facts.job}: hookup authorised, reference {hookup.reference}. {allowed}"
    at = hookup.recorded_at
    yield from due_for(facts.office_leads_and_builder, hookup.id, text, at, until=at + TOLD_WITHIN)
