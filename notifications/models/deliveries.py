"""The outbox: what is to be sent, by whom it is being sent, and how that went."""

from django.db import models
from django.db.models import Q

from jobs.models import Person, Record, Shop
from jobs.models.fields import MomentField

from .notices import Notice
from .people import Address, Channel


class Lane(models.TextChoices):
    """How long a delivery may wait behind others. Each has a queue of its own."""

    URGENT = "urgent", "urgent"
    ORDINARY = "ordinary", "ordinary"
    BULK = "bulk", "bulk"


class State(models.TextChoices):
    """Where a delivery stands."""

    DUE = "due", "waiting"
    SENT = "sent", "sent"
    DEAD = "dead", "given up"
    MOOT = "moot", "no longer needed"


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
    fault = models.CharField(max_length=500, blank=True)
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
        return f"{self.get_channel_display()} to {self.address}"


class Try(Record):
    """An attempt that failed, kept as it was."""

    delivery = models.ForeignKey(Delivery, models.CASCADE, related_name="failed_tries")
    number = models.PositiveSmallIntegerField()
    at = MomentField()
    fault = models.CharField(max_length=500)

    class Meta:
        ordering = ["at", "id"]
        verbose_name_plural = "tries"

    def __str__(self) -> str:
        return f"try {self.number}: {self.fault}"
