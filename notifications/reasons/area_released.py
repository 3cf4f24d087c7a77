"""An area was released: the builder may cover it."""

from collections.abc import Iterator

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.messages.cover import RELEASED
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason


@reason("area released", NoticeKind.COVER)
def area_released(facts: JobFacts) -> Iterator[Due]:
    """Each live cover release, to the builder's people and the office."""
    for cover_release in facts.cover_releases:
        if cover_release.live:
            text = RELEASED(
                job=str(facts.job),
                area=str(cover_release.area),
                reference=cover_release.reference,
            )
            at = cover_release.issued_at
            people = [*facts.builder, *facts.office]
            yield from due_for(people, cover_release.id, text, at, until=at + TOLD_WITHIN)
