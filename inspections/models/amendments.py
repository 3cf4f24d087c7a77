"""What a shop sets otherwise than a rulebook does, with who and why."""

from django.db import models

from jobs.models import Person, Record, Shop
from jobs.models.fields import MomentField


class Amendment(Record):
    """One limit of one rulebook as a shop has it from then on. Kept; a later one supersedes it."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="amendments")
    rulebook = models.CharField(max_length=40)
    limit = models.CharField(max_length=120)
    value = models.JSONField(null=True, blank=True)
    """In `unit`; null: as the code has it again."""
    unit = models.CharField(max_length=40, blank=True)
    reason = models.CharField(max_length=300)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = MomentField()

    class Meta:
        ordering = ["made_at", "id"]
        indexes = [models.Index(fields=["shop", "rulebook", "limit"], name="amendments_of_shop")]

    def __str__(self) -> str:
        return f"{self.limit} of {self.rulebook}"
