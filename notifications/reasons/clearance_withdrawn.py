"""A clearance was withdrawn: whoever might be covering the area must stop."""

from collections.abc import Iterator

from inspections.models import Clearance
from jobs.models import Job, Role
from notifications.reason import Due, people_of, reason


@reason("clearance withdrawn")
def clearance_withdrawn(job: Job) -> Iterator[Due]:
    """Each withdrawn clearance, to the contractor's people, the office and the crew leads."""
    gone = Clearance.objects.filter(area__job=job, withdrawn_at__isnull=False)
    for clearance in gone.select_related("area"):
        text = f"{job.name}, {clearance.area.name}: do not cover. {clearance.withdrawn_because}"
        for person in people_of(job, Role.CONTRACTOR, Role.OFFICE, Role.CREW_LEAD):
            yield Due(person, str(clearance.id), text[:500])
