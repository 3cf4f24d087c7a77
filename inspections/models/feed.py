"""The order in which a shop's changes are told to programs that ask."""

from django.db import models

from inspections.models.record import RecordEntry
from jobs.models import Record, Shop


class FeedNumber(Record):
    """The place of one entry of a record among all of a shop's, given when it is first told.

    A number is given to what is committed alone, so that a reader who has seen a number will
    never find a lower one appear later.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="feed")
    number = models.PositiveBigIntegerField()
    entry = models.OneToOneField(
        RecordEntry,
        models.PROTECT,
        related_name="feed",
        error_messages={"unique": "This entry of the record is numbered already."},
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "number"],
                name="feed_number_once_per_shop",
                violation_error_code="feed_number_once_per_shop",
                violation_error_message=(
                    "Somebody numbered this shop's record at the same moment. Try again."
                ),
            )
        ]

    def __str__(self) -> str:
        return str(self.number)
