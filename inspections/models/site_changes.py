"""Where a box really stands, as somebody on site found it, and what the office said of that."""

from django.db import models

from jobs.models import Job, Person, Record
from jobs.models.fields import MomentField


class SiteChange(Record):
    """A box that does not stand where the house says. Kept; the office accepts it or not."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="site_changes")
    box = models.CharField(max_length=40)
    wall = models.CharField(max_length=40)
    at_mm = models.FloatField()
    """Centre of the box, from the wall's left end."""
    height_mm = models.FloatField(null=True, blank=True)
    """Centre above the finished floor; null when it was not measured."""
    note = models.CharField(max_length=500, blank=True)
    revision = models.PositiveIntegerField()
    """The revision against which it was found."""
    seen_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    seen_at = MomentField()
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        return f"box {self.box}"


class SiteChangeAnswer(Record):
    """What the office said of a site change: accepted, as a revision, or left."""

    site_change = models.OneToOneField(
        SiteChange,
        models.PROTECT,
        related_name="answer",
        error_messages={"unique": "This correction was answered already."},
    )
    accepted = models.BooleanField()
    revision = models.PositiveIntegerField(null=True, blank=True)
    """The revision that it became."""
    why = models.CharField(max_length=200, blank=True)
    answered_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    answered_at = MomentField()

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.site_change}: {'accepted' if self.accepted else 'left'}"
