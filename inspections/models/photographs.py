"""Photographs of what will be concealed, each of an item as it stood."""

from django.db import models

from inspections.models.houses import Item
from jobs.models import Person, Record


class Photograph(Record):
    """A picture of an item. Kept as it is; `fingerprint` tells of which facts it is."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="photographs")
    file = models.FileField(upload_to="photographs/%Y/%m")
    digest = models.CharField(max_length=64)
    fingerprint = models.CharField(max_length=16)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        return f"photograph of {self.item_id}"
