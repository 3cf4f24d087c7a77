"""Packs that somebody asked for: how far they are, and the file once it is made."""

from django.db import models

from jobs.models import Job, Person, Record
from jobs.models.fields import MomentField


class Pack(Record):
    """A bundle of a job's sheets, made by a worker part by part."""

    class Kind(models.TextChoices):
        """Whom it is for."""

        INSPECTOR = "inspector", "inspector's pack"
        CLOSE_OUT = "close_out", "close-out pack for the owner"

    class State(models.TextChoices):
        """How far it is."""

        ASKED = "asked", "asked for"
        MADE = "made", "made"
        REFUSED = "refused", "refused"
        FAILED = "failed", "broke off"

    job = models.ForeignKey(Job, models.CASCADE, related_name="packs")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    paper = models.CharField(max_length=6, default="letter")
    state = models.CharField(max_length=8, choices=State.choices, default=State.ASKED)
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    asked_at = MomentField()
    begun_at = MomentField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0, db_default=0)
    """How often a worker took it up."""
    parts = models.PositiveIntegerField(default=0)
    """How many parts it has; 0 until a worker has begun."""
    done = models.PositiveIntegerField(default=0)
    """How many of them are made."""
    part = models.JSONField(default=str, blank=True)
    """The one that is being made."""
    fault = models.CharField(max_length=300, blank=True)
    content = models.BinaryField(null=True, blank=True)
    appendix = models.BinaryField(null=True, blank=True)
    """What the code on an inspector's pack opens: workings, load, hookup, photographs."""

    class Meta:
        ordering = ["asked_at", "id"]
        indexes = [models.Index(fields=["state", "asked_at"], name="packs_to_make")]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.job}"
