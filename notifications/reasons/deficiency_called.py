"""The inspector called a deficiency."""

from collections.abc import Iterator

from notifications.facts import TOLD_WITHIN, JobFacts
from notifications.models import Kind
from notifications.reason import Due, reason, told


@reason("deficiency called", Kind.DEFICIENCY)
def deficiency_called(facts: JobFacts) -> Iterator[Due]:
    """Each, to the crew lead and the office, while it is not mended."""
    for each in facts.deficiencies:
        if each.mended_at is not None:
            continue
        due = f" Due by {each.due_on}." if each.due_on else ""
        where = f" ({each.where})" if each.where else ""
        text = f"{facts.job}, {each.area}: the inspector called: {each.what}{where}.{due}"
        at = each.called_at
        until = at + TOLD_WITHIN
        yield from told([*facts.leads, *facts.office], each.id, text, at, until=until)
