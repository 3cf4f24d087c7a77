"""What was reported done once for a whole job, after its areas were cleared."""

from django.db import models

from inspections.stages import Milestone
from jobs.models import Job, Person, Record


class MilestoneReached(Record):
    """A fact: the hookup authorised, the finish done, the final accepted."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="milestones")
    milestone = models.CharField(
        max_length=30, choices=[(milestone.value, milestone.value) for milestone in Milestone]
    )
    reference = models.CharField(max_length=60, blank=True)
    circuits = models.JSONField(default=list, blank=True)
    """The hookup: the circuits that may be live."""
    temporary_until = models.DateField(null=True, blank=True)
    """The hookup: the day by which the temporary service must be gone."""
    reached_on = models.DateField()
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["job", "milestone"],
                name="milestone_once_per_job",
                violation_error_code="milestone_once_per_job",
                violation_error_message="This is recorded for the job already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.milestone} on {self.reached_on}"
