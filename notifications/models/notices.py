"""Notices: what a person should be told, once per reason and occasion."""

from django.db import models
from django.db.models import Q

from inspections.models import Inspection
from jobs.models import Job, Person, Record, Shop


class Kind(models.TextChoices):
    """What a notice is about: what a person's wishes are kept by."""

    PERMIT = "permit", "permits"
    VISIT = "visit", "visits by the inspector"
    DEFICIENCY = "deficiency", "deficiencies"
    COVER = "cover", "covering: clear and hold"
    HOOKUP = "hookup", "construction hookup and temporary service"
    LIST = "list", "the next day's list"
    FINISH = "finish", "finish, final and certificate"
    SUMMARY = "summary", "weekly summary"
    TROUBLE = "trouble", "messages that did not arrive"


class Notice(Record):
    """Something a person should be told; seen once they said so.

    It is a conclusion that was kept because it was given. `moot_at` is when the facts no longer
    gave it: from then on nobody is told of it.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="notices")
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="notices")
    job = models.ForeignKey(Job, models.CASCADE, null=True, blank=True, related_name="notices")
    visit = models.ForeignKey(
        Inspection, models.CASCADE, null=True, blank=True, related_name="notices"
    )
    """The visit whose window goes along as a calendar entry."""
    reason = models.CharField(max_length=60)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    occasion = models.CharField(max_length=120)
    urgent = models.BooleanField(default=False)
    text = models.CharField(max_length=500)
    body = models.TextField(blank=True)
    due_at = models.DateTimeField()
    given_at = models.DateTimeField()
    moot_at = models.DateTimeField(null=True, blank=True)
    seen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-due_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "reason", "occasion"], name="a_notice_is_given_once"
            )
        ]
        indexes = [
            models.Index(
                fields=["person"],
                condition=Q(seen_at__isnull=True, moot_at__isnull=True),
                name="unseen_notices",
            )
        ]

    def __str__(self) -> str:
        return self.text
