"""An area was cleared: the contractor may cover it."""

from collections.abc import Iterator

from inspections.models import Clearance
from jobs.models import Job, Role
from notifications.reason import Due, people_of, reason


@reason("area cleared")
def area_cleared(job: Job) -> Iterator[Due]:
    """Each live clearance, to the contractor's people and the office."""
    live = Clearance.objects.filter(area__job=job, withdrawn_at__isnull=True)
    for clearance in live.select_related("area"):
        text = f"{job.name}, {clearance.area.name}: may be covered ({clearance.reference})."
        for person in people_of(job, Role.CONTRACTOR, Role.OFFICE):
            yield Due(person, str(clearance.id), text)
