"""A finish or final visit was held and nothing was called at it."""

from collections.abc import Iterator

from inspections.models import Happening
from inspections.models import Kind as Visit
from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import Kind
from notifications.reason import Due, reason, told


@reason("accepted", Kind.FINISH)
def accepted(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and contractor."""
    called_at = {each.called_at_visit_id for each in facts.deficiencies}
    for each in facts.visits:
        last = each.last
        if each.visit.kind not in (Visit.FINISH, Visit.FINAL) or each.visit.id in called_at:
            continue
        if last is not None and last.happening == Happening.HELD:
            text = (
                f"{facts.job}: the {each.visit.get_kind_display()} is accepted, {last.reference}."
            )
            at = last.recorded_at
            yield from told(facts.everyone, each.visit.id, text, at, until=at + TOLD_WITHIN)
