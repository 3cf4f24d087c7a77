"""What was reported done once for a whole job, after its areas were released."""

from django.db import models

from inspections.standing.stages import Milestone
from jobs.models import Job, Person, Record
from jobs.models.fields import DayField, MomentField


class MilestoneReached(Record):
    """A fact: the hookup authorised, the finish done, the final accepted."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="milestones")
    milestone = models.CharField(
        max_length=30, choices=[(milestone.value, milestone.value) for milestone in Milestone]
    )
    reference = models.CharField(max_length=60, blank=True)
    circuits = models.JSONField(default=list, blank=True)
    """The hookup: the circuits that may be live, by their ids in the house."""
    live = models.JSONField(null=True, blank=True)
    """The same with panel, number and name, as the house had them then; null on what was recorded
    before circuits were chosen from the panel, whose `circuits` are whatever was typed."""
    temporary_until = DayField(null=True, blank=True)
    """The hookup: the day by which the temporary service must be gone."""
    reached_on = DayField()
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "milestone"],
                name="milestone_once_per_job",
                violation_error_code="milestone_once_per_job",
                violation_error_message="This is recorded for the job already.",
            )
        ]

    @property
    def live_words(self) -> list[str]:
        """Each circuit that may be live, as it is told."""
        if self.live is None:
            return list(self.circuits)
        words: list[str] = []
        for each in self.live:
            words.append(f"{each['number']} {each['name']}")
        return words

    @property
    def as_typed(self) -> bool:
        """Whether its circuits were typed, and match nothing in the house."""
        return bool(self.circuits) and self.live is None

    def __str__(self) -> str:
        return f"{self.milestone} on {self.reached_on}"
