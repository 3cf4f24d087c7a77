"""Answers carried over a change of what a rule's facts are made of."""

from django.db import models

from inspections.models.houses import Item
from jobs.models import Record
from jobs.models.fields import MomentField


class CarriedAnswers(Record):
    """A newer rule says the same of an item in facts of another shape; its answers stand.

    The item keeps the fingerprint that its answers belong to, so that a tick which a phone loaded
    before comes in as one of the same facts. Appended; never edited.
    """

    item = models.ForeignKey(Item, models.PROTECT, related_name="carried")
    fingerprint = models.CharField(max_length=16)
    """That which answers belong to."""
    newer = models.CharField(max_length=16)
    """That of the same facts by the newer rule."""
    rule_version = models.PositiveSmallIntegerField()
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "newer"],
                name="carried_once_per_item_and_facts",
                violation_error_code="carried_once_per_item_and_facts",
                violation_error_message="These answers were carried over already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.fingerprint} as {self.newer}"
