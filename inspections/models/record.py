"""The record of a job: every change of a fact in a chain that shows when a link is missing."""

from django.db import models

from jobs.models import Job, Person, Record
from jobs.models.fields import MomentField


class RecordEntry(Record):
    """One change: who, when, from where, what it was before. Never edited or deleted.

    `chain` is a digest of this entry and of the chain before it.
    """

    job = models.ForeignKey(Job, models.PROTECT, related_name="record")
    number = models.PositiveIntegerField()
    action = models.CharField(max_length=60)
    detail = models.JSONField(default=dict)
    before = models.JSONField(default=dict)
    origin = models.CharField(max_length=60)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = MomentField()
    chain = models.CharField(max_length=64)

    class Meta:
        ordering = ["number"]
        verbose_name_plural = "record entries"
        constraints = [
            models.UniqueConstraint(
                fields=["job", "number"],
                name="record_number_once_per_job",
                violation_error_code="record_number_once_per_job",
                violation_error_message=(
                    "Somebody added to this job's record at the same moment. Try again."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"{self.number}: {self.action}"
