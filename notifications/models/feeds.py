"""Calendar feeds: a link that opens one calendar, and can be withdrawn."""

import secrets
from typing import Any

from django.db import models

from config.languages import said_later
from config.sealed_field import SealedField
from jobs.models import Builder, Job, Person, Record, Shop
from jobs.models.fields import MomentField
from jobs.secrets import digest_of
from notifications.messages import choices


def new_token() -> str:
    """What nobody guesses."""
    return secrets.token_urlsafe(32)


class Feed(Record):
    """A calendar to subscribe to: a person's own, a job's, a builder's or a crew's.

    It shows what its maker may see, and nothing once they may not or it was withdrawn.
    """

    class Scope(models.TextChoices):
        """Whose inspections it shows."""

        PERSON = "person", said_later(choices.FEED_PERSON())
        JOB = "job", said_later(choices.FEED_JOB())
        BUILDER = "builder", said_later(choices.FEED_BUILDER())
        CREW = "crew", said_later(choices.FEED_CREW())

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="feeds")
    person = models.ForeignKey(Person, models.CASCADE, related_name="feeds")
    """Who made it; it shows what they may see."""
    scope = models.CharField(max_length=10, choices=Scope.choices)
    job = models.ForeignKey(Job, models.CASCADE, null=True, blank=True, related_name="feeds")
    builder = models.ForeignKey(
        Builder, models.CASCADE, null=True, blank=True, related_name="feeds"
    )
    lead = models.ForeignKey(
        Person, models.CASCADE, null=True, blank=True, related_name="crew_feeds"
    )
    token = SealedField(default=new_token)
    """Sealed, since its maker reads the address again."""
    digest = models.CharField(max_length=64, unique=True, null=True, editable=False)  # noqa: DJ001
    """Of the token, by which a calendar is found. Null: written by the version before."""
    made_at = MomentField()
    withdrawn_at = MomentField(null=True, blank=True)

    class Meta:
        ordering = ["made_at", "id"]

    def save(self, *given: Any, **named: Any) -> None:
        """With the digest of its token."""
        if named.get("update_fields") is None:
            self.digest = digest_of(self.token)
        super().save(*given, **named)

    def __str__(self) -> str:
        return str(self.job or self.builder or self.lead or self.person)
