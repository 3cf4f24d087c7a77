"""Links that open one thing without an account, and can be withdrawn."""

from django.db import models
from django.db.models import Q

from jobs.models import Area, Job, Person, Record
from jobs.models.fields import MomentField


class Link(Record):
    """A link to one job's cover, to one area by the placard on its wall, or to a pack's appendix.

    Only a digest of its secret is kept, so that nobody who reads the database can open it.
    """

    class Kind(models.TextChoices):
        """What it opens."""

        COVER = "cover", "what may be covered on a job"
        PLACARD = "placard", "the placard of an area"
        APPENDIX = "appendix", "the appendix of an inspector's pack"

    job = models.ForeignKey(Job, models.CASCADE, related_name="links")
    area = models.ForeignKey(Area, models.CASCADE, null=True, blank=True, related_name="links")
    cover_release = models.ForeignKey(
        "inspections.CoverRelease", models.PROTECT, null=True, blank=True, related_name="placards"
    )
    """A placard: the cover release that was live when it was printed."""
    pack = models.ForeignKey(
        "inspections.Pack", models.SET_NULL, null=True, blank=True, related_name="links"
    )
    """An appendix: the pack it belongs to, for as long as that is kept."""
    kind = models.CharField(max_length=8, choices=Kind.choices)
    for_whom = models.CharField(max_length=120, blank=True)
    digest = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = MomentField()
    expires_at = MomentField(null=True, blank=True)
    withdrawn_at = MomentField(null=True, blank=True)
    acknowledged_at = MomentField(null=True, blank=True)
    """When whoever holds the link last said that the present state was seen."""

    class Meta:
        ordering = ["made_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    kind__in=["cover", "appendix"], area__isnull=True, expires_at__isnull=False
                )
                | Q(kind="placard", area__isnull=False),
                name="a_link_opens_one_thing",
                violation_error_code="a_link_opens_one_thing",
                violation_error_message=(
                    "A link to the cover or an appendix runs out on a day; "
                    "a placard is of one area."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} for {self.for_whom or self.area}"
