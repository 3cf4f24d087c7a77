"""Answers that were given to calls with an Idempotency-Key, to be given again."""

from django.db import models

from config.sealed_field import SealedField
from jobs.models import Person, Record
from jobs.models.fields import MomentField


class StoredAnswer(Record):
    """One answer to one call, kept for a day."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="+")
    key = models.CharField(max_length=200)
    call = models.CharField(max_length=64)
    """A digest of the method, the address and the body."""
    status = models.PositiveSmallIntegerField(default=0)
    body = SealedField(blank=True)
    """Sealed: the answer to who made a token or a link holds its secret."""
    content_type = models.CharField(max_length=80, blank=True)
    given_at = MomentField(db_index=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "key"],
                name="one_answer_per_person_and_key",
                violation_error_code="one_answer_per_person_and_key",
                violation_error_message="A call with this Idempotency-Key is answered already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.status} for {self.key}"
