"""Tokens by which programs act for a person."""

from django.db import models

from .base import Record
from .fields import MomentField
from .shops import Person


class ApiToken(Record):
    """A program's way in as one person, within a scope. Only a digest of its secret is kept."""

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

    class Meta:
        ordering = ["made_at", "id"]

    def __str__(self) -> str:
        return f"{self.name} of {self.person}"
