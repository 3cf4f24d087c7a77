"""Photographs: of what will be concealed, each of an item as it stood, and of deficiencies."""

from django.db import models

from inspections.models.houses import Item
from inspections.models.inspections import Deficiency
from jobs.models import Person, Record
from jobs.models.fields import MomentField


class Picture(Record):
    """A picture file, and who took it when. Kept as it is."""

    file = models.FileField(upload_to="photographs/%Y/%m")
    digest = models.CharField(max_length=64)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        abstract = True
        ordering = ["recorded_at", "id"]


class Photograph(Picture):
    """A picture of an item; `fingerprint` tells of which facts it is."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="photographs")
    fingerprint = models.CharField(max_length=16)

    class Meta(Picture.Meta):
        abstract = False

    def __str__(self) -> str:
        return f"photograph of {self.item_id}"


class DeficiencyPhotograph(Picture):
    """A picture of a deficiency, before it was corrected or after."""

    class Moment(models.TextChoices):
        """When it was taken."""

        BEFORE = "before", "before it was mended"
        AFTER = "after", "after it was mended"

    deficiency = models.ForeignKey(Deficiency, models.PROTECT, related_name="photographs")
    moment = models.CharField(max_length=6, choices=Moment.choices)

    class Meta(Picture.Meta):
        abstract = False

    def __str__(self) -> str:
        return f"photograph {self.moment} of {self.deficiency_id}"
