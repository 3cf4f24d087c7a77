"""Facts of a house that were corrected on site, as a revision of its own."""

from django.db import models

from jobs.models import Job, Person, Record
from jobs.models.fields import MomentField


class FactCorrection(Record):
    """One or more facts that somebody on site corrected. Kept; an undo is another one.

    It has the id that the phone gave it, so that it comes in once.
    """

    job = models.ForeignKey(Job, models.PROTECT, related_name="fact_corrections")
    base = models.PositiveIntegerField()
    """The revision that its maker was shown."""
    revision = models.PositiveIntegerField()
    """The revision that it became."""
    changes = models.JSONField()
    """Each fact: its `path`, what it `was`, what it is `now`, and that as `typed`."""
    note = models.CharField(max_length=500, blank=True)
    undoes = models.OneToOneField(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="undone_by",
        error_messages={"unique": "This correction is already undone."},
    )
    """The correction whose values it puts back."""
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = MomentField()
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        return f"correction as revision {self.revision}"
