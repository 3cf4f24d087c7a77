"""Notices: what a person should know, once per job, reason and occasion."""

from django.db import models
from django.db.models import Q

from config.languages import said_later, say
from jobs.models import Job, Person, Record, Shop
from jobs.models.fields import MomentField
from notifications.messages import choices, refusals


class NoticeKind(models.TextChoices):
    """What a notice is about: what a person's wishes are kept by."""

    PERMIT = "permit", said_later(choices.PERMIT())
    INSPECTION = "inspection", said_later(choices.INSPECTION())
    DEFICIENCY = "deficiency", said_later(choices.DEFICIENCY())
    COVER = "cover", said_later(choices.COVER())
    HOOKUP = "hookup", said_later(choices.HOOKUP())
    LIST = "list", said_later(choices.LIST())
    FINISH = "finish", said_later(choices.FINISH())
    SUMMARY = "summary", said_later(choices.SUMMARY())
    TROUBLE = "trouble", said_later(choices.TROUBLE())
    AUDIT = "audit", said_later(choices.AUDIT())


class Notice(Record):
    """Something a person should be told; seen once they said so.

    It is a conclusion that was kept because it was given. `moot_at` is when the facts no longer
    gave it: from then on nobody is told of it.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="notices")
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="notices")
    job = models.ForeignKey(Job, models.CASCADE, null=True, blank=True, related_name="notices")
    inspection = models.ForeignKey(
        "inspections.Inspection", models.CASCADE, null=True, blank=True, related_name="notices"
    )
    """The inspection whose window goes along as a calendar entry."""
    reason = models.CharField(max_length=60)
    kind = models.CharField(max_length=12, choices=NoticeKind.choices)
    occasion = models.CharField(max_length=120)
    urgent = models.BooleanField(default=False)
    text = models.JSONField()
    """A message; in what was given before messages were kept, its English sentence."""
    body = models.JSONField(default=list, blank=True)
    """The lines below, each as the text is."""
    due_at = MomentField()
    given_at = MomentField()
    moot_at = MomentField(null=True, blank=True)
    seen_at = MomentField(null=True, blank=True)
    times_given = models.PositiveSmallIntegerField(default=1)
    """More than once when it was moot before anybody was told, and then stood again."""
    escalate_at = MomentField(null=True, blank=True)
    """When an urgent notice that nobody has seen goes on; null: it does not."""
    handed_from = models.ForeignKey(
        "self", models.CASCADE, null=True, blank=True, related_name="handed_on"
    )
    """The notice of another person who did not answer."""

    class Meta:
        ordering = ["-due_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "job", "reason", "occasion"],
                name="a_notice_is_given_once",
                violation_error_code="a_notice_is_given_once",
                violation_error_message=said_later(refusals.NOTICE_TWICE()),
            ),
            models.UniqueConstraint(
                fields=["person", "shop", "reason", "occasion"],
                condition=Q(job__isnull=True),
                name="a_notice_of_a_shop_is_given_once",
                violation_error_code="a_notice_of_a_shop_is_given_once",
                violation_error_message=said_later(refusals.NOTICE_TWICE()),
            ),
        ]
        indexes = [
            models.Index(
                fields=["person"],
                condition=Q(seen_at__isnull=True, moot_at__isnull=True),
                name="unseen_notices",
            ),
            models.Index(
                fields=["escalate_at"],
                condition=Q(escalate_at__isnull=False),
                name="notices_that_go_on",
            ),
        ]

    def __str__(self) -> str:
        return say(self.text, "en")
