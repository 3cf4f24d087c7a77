"""The final is recorded with the authority's certificate."""

from collections.abc import Iterator

from inspections.standing.stages import Milestone
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.cover import CERTIFICATE, CERTIFICATE_US
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("certificate in", NoticeKind.FINISH)
def certificate_in(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder."""
    final = facts.milestones.get(Milestone.FINAL)
    if final is not None:
        certificate = CERTIFICATE
        if facts.in_us:
            certificate = CERTIFICATE_US
        text = certificate(job=str(facts.job), reference=final.reference)
        at = final.recorded_at
        yield from due_for(
            facts.office_leads_and_builder, final.id, text, at, until=at + TOLD_WITHIN
        )
