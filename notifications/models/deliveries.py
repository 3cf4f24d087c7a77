"""The outbox: what is to be sent, by whom it is being sent, and how that went."""

from django.db import models
from django.db.models import Q

from config.languages import said_later, say
from config.messages.message import Text
from jobs.models import Person, Record, Shop
from jobs.models.fields import MomentField
from notifications.messages import choices, mail

from .notices import Notice
from .people import CHANNELS, Address, Channel


class Lane(models.TextChoices):
    """How long a delivery may wait behind others. Each has a queue of its own."""

    URGENT = "urgent", said_later(choices.URGENT())
    ORDINARY = "ordinary", said_later(choices.ORDINARY())
    BULK = "bulk", said_later(choices.BULK())


class State(models.TextChoices):
    """Where a delivery stands."""

    DUE = "due", said_later(choices.DUE())
    SENT = "sent", said_later(choices.SENT())
    DEAD = "dead", said_later(choices.DEAD())
    MOOT = "moot", said_later(choices.MOOT())


class Delivery(Record):
    """The telling of one notice, or of a day's notices, over one channel.

    A worker that takes it leaves a lease; when the lease has run out without an outcome,
    another takes it. The Message-ID is made of its identity, so that a second copy after a
    crash is recognised as the same message.
    """

    key = models.CharField(max_length=150, unique=True)
    person = models.ForeignKey(Person, models.CASCADE, related_name="deliveries")
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="deliveries")
    address = models.ForeignKey(Address, models.CASCADE, related_name="deliveries")
    channel = models.CharField(max_length=8, choices=Channel.choices)
    notices = models.ManyToManyField(Notice, related_name="deliveries")
    digest = models.BooleanField(default=False)
    step = models.PositiveSmallIntegerField(default=0)
    """How often the notice went on to another channel before this."""
    lane = models.CharField(max_length=8, choices=Lane.choices)
    state = models.CharField(max_length=4, choices=State.choices, default=State.DUE)
    due_at = MomentField()
    tries = models.PositiveSmallIntegerField(default=0)
    lease = models.CharField(max_length=32, blank=True)
    lease_until = MomentField(null=True, blank=True)
    fault = models.JSONField(default=str, blank=True)
    """Why it did not go, as a message; empty while nothing is wrong."""
    ended_at = MomentField(null=True, blank=True)
    """When it was sent, given up or found moot."""

    class Meta:
        ordering = ["due_at", "id"]
        verbose_name_plural = "deliveries"
        indexes = [
            models.Index(
                fields=["lane", "channel", "due_at", "id"],
                condition=Q(state="due"),
                name="deliveries_waiting",
            ),
            models.Index(
                fields=["channel", "ended_at"], condition=Q(state="sent"), name="deliveries_sent"
            ),
        ]

    def __str__(self) -> str:
        return say(self.words, "en")

    @property
    def words(self) -> Text:
        """By what and whereto it goes."""
        return mail.DELIVERY(channel=CHANNELS[Channel(self.channel)](), address=str(self.address))


class Try(Record):
    """An attempt that failed, kept as it was."""

    delivery = models.ForeignKey(Delivery, models.CASCADE, related_name="failed_tries")
    number = models.PositiveSmallIntegerField()
    at = MomentField()
    fault = models.JSONField()

    class Meta:
        ordering = ["at", "id"]
        verbose_name_plural = "tries"

    def __str__(self) -> str:
        return f"try {self.number}: {say(self.fault, 'en')}"
