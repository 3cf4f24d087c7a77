"""Tokens by which programs act for a person."""

from datetime import datetime, timedelta

from django.db import models

from .base import Record
from .fields import MomentField
from .shops import Person


class ApiToken(Record):
    """A program's way in as one person, within a scope. Only a digest of its secret is kept."""

    MOST_DAYS = 365

    class Scope(models.TextChoices):
        """What may be done with it, each scope holding the one before."""

        READ = "read", "read"
        OBSERVE = "observe", "read, and record what is seen on site"
        WRITE = "write", "everything that the person may do"

    person = models.ForeignKey(Person, models.CASCADE, related_name="tokens")
    name = models.CharField(max_length=80)
    """The program that uses it."""
    scope = models.CharField(max_length=8, choices=Scope.choices)
    digest = models.CharField(max_length=64, unique=True)
    made_at = MomentField()
    used_at = MomentField(null=True, blank=True)
    """To the minute; null: never."""
    revoked_at = MomentField(null=True, blank=True)
    expires_at = MomentField(null=True, blank=True)
    """Null: made by a version that knew of no end; good for a year from then."""

    class Meta:
        ordering = ["made_at", "id"]

    def __str__(self) -> str:
        return f"{self.name} of {self.person}"

    @property
    def ends_at(self) -> datetime:
        """The moment from which it opens nothing."""
        return self.expires_at or self.made_at + timedelta(days=self.MOST_DAYS)
