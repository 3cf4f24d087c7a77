"""A second factor: one-time codes by the clock (RFC 6238), and codes for a lost phone."""

from django.db import models
from django.db.models import Q

from .base import Record
from .fields import MomentField
from .shops import Person


class SecondFactor(Record):
    """What a person's phone makes codes with. One that ended stays, with who ended it."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="second_factors")
    secret = models.CharField(max_length=32)
    """In base32. It has to be readable, since codes are computed from it; gone when it ended."""
    begun_at = MomentField()
    confirmed_at = MomentField(null=True, blank=True)
    """When the first code was right; until then it asks nobody for anything."""
    ended_at = MomentField(null=True, blank=True)
    ended_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    """Null on one that ended: whoever runs the server."""
    last_step = models.BigIntegerField(default=-1)
    """The step of 30 seconds of the last code that was taken: none is taken twice."""
    wrong = models.PositiveSmallIntegerField(default=0)
    """Wrong codes in a row."""
    wait_until = MomentField(null=True, blank=True)
    """Until then no code is looked at, since too many were wrong."""

    class Meta:
        ordering = ["begun_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person"],
                condition=Q(confirmed_at__isnull=False, ended_at__isnull=True),
                name="one_second_factor_at_a_time",
                violation_error_code="one_second_factor_at_a_time",
                violation_error_message="It is on already; turn it off first.",
            )
        ]

    def __str__(self) -> str:
        return f"second factor of {self.person}"

    @property
    def live(self) -> bool:
        """Whether it is asked for at sign-in."""
        return self.confirmed_at is not None and self.ended_at is None


class RecoveryCode(Record):
    """Signs in once in place of the phone. Only a digest is kept."""

    factor = models.ForeignKey(SecondFactor, models.CASCADE, related_name="recovery_codes")
    digest = models.CharField(max_length=64, unique=True)
    used_at = MomentField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"recovery code of {self.factor.person}"
