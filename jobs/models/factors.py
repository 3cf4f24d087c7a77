"""Second factors: when one was on, who ended it, and what was tried. The keys are the library's.

The secret of a phone, recovery codes and passkeys stand in the table of `allauth.mfa`, sealed by
its adapter (`pages/account/adapter.py`).
"""

from django.db import models
from django.db.models import Q

from config.sealed_field import SealedField

from .base import Record
from .fields import MomentField
from .shops import Person


class SecondFactor(Record):
    """A second factor of a person. One that was ended is kept, with who ended it."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="second_factors")
    secret = models.CharField(max_length=32)
    """Empty since secrets are sealed; to be dropped with the next version."""
    pending = SealedField(blank=True, default="", db_default="")
    """In base32, of a phone that has not shown its first code yet."""
    begun_at = MomentField()
    confirmed_at = MomentField(null=True, blank=True)
    """When the first code was right, or the first passkey added; until then it asks nobody."""
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
    """A recovery code of before; nothing reads it since. To be dropped with the next version."""

    factor = models.ForeignKey(SecondFactor, models.CASCADE, related_name="recovery_codes")
    digest = models.CharField(max_length=64, unique=True)
    used_at = MomentField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"recovery code of {self.factor.person}"
