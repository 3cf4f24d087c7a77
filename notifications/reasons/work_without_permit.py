"""Work was begun without an issued permit."""

from collections.abc import Iterator

from notifications.facts import JobFacts
from notifications.models import Kind
from notifications.reason import Due, reason, told


@reason("work without permit", Kind.PERMIT)
def work_without_permit(facts: JobFacts) -> Iterator[Due]:
    """To the office and the crew lead, from the first work recorded until the permit is issued."""
    issued = facts.permit is not None and facts.permit.issued_on is not None
    if facts.work_began is None or issued:
        return
    text = (
        f"{facts.job}: work is recorded and no permit is issued. "
        "Stop, and ask the authority before going on."
    )
    yield from told([*facts.office, *facts.leads], "work", text, facts.work_began)
