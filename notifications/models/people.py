"""How a person is reached, and how they wish to be."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import MaxLengthValidator, validate_email
from django.db import models

from config.languages import said_later
from config.messages.message import Message
from config.sealed_field import SealedField
from jobs.models import Person, Record, Shop
from jobs.models.fields import MomentField
from jobs.models.shops import check_zone
from jobs.secrets import digest_of
from notifications.messages import choices, refusals

from .notices import NoticeKind


class Channel(models.TextChoices):
    """By what a notice goes out."""

    EMAIL = "email", said_later(choices.EMAIL())
    MESSAGE = "message", said_later(choices.MESSAGE())
    WEBHOOK = "webhook", said_later(choices.WEBHOOK())


CHANNELS: Mapping[Channel, Message] = {
    Channel.EMAIL: choices.EMAIL,
    Channel.MESSAGE: choices.MESSAGE,
    Channel.WEBHOOK: choices.WEBHOOK,
}


class GatewayKind(models.TextChoices):
    """The gateways that are offered, by what is asked of them."""

    PUSH = "push", said_later(choices.PUSH())
    ROOM = "room", said_later(choices.ROOM())
    CHAT = "chat", said_later(choices.CHAT())
    SMS = "sms", said_later(choices.SMS())
    FORM = "form", said_later(choices.FORM())


class Gateway(Record):
    """A service that a shop sends text messages, chat or push through.

    `{to}` in its address stands for what a person gave: a number, a topic, a room.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="gateways")
    name = models.CharField(max_length=60)
    kind = models.CharField(
        max_length=4, choices=GatewayKind.choices, blank=True, default="", db_default=""
    )
    """Empty: of a kind that was offered once. It is kept, and nothing goes through it."""
    url = SealedField(validators=[MaxLengthValidator(500)])
    account = models.CharField(max_length=200, blank=True, default="", db_default="")
    """Who asks, where the service wants a name beside the secret."""
    secret = SealedField(
        blank=True, default="", db_default="", validators=[MaxLengthValidator(500)]
    )
    """Password of the account, or a token."""
    sender = models.CharField(max_length=60, blank=True, default="", db_default="")
    """The number or name that messages come from, where the service asks for one."""
    fault = models.JSONField(default=str, blank=True)
    """Why it last failed to send; empty once it sends again."""

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "name"],
                name="gateway_name_once_per_shop",
                violation_error_code="gateway_name_once_per_shop",
                violation_error_message=said_later(refusals.GATEWAY_NAME()),
            )
        ]

    def __str__(self) -> str:
        return self.name


class Address(Record):
    """One way to reach a person. The first that is not paused is tried first."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="addresses")
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="addresses")
    """Whose office is told when it does not work."""
    channel = models.CharField(max_length=8, choices=Channel.choices)
    target = SealedField(validators=[MaxLengthValidator(500)])
    """Sealed: whoever has a webhook's address can send to it."""
    digest = models.CharField(max_length=64, null=True, editable=False)  # noqa: DJ001, two may lack it
    """Of the target, by which it is known again. Null: written by the version before."""
    gateway = models.ForeignKey(
        Gateway, models.CASCADE, null=True, blank=True, related_name="addresses"
    )
    secret = SealedField(blank=True)
    """A webhook's signing secret, shown once to the one who made it."""
    position = models.PositiveSmallIntegerField(default=0)
    paused_at = MomentField(null=True, blank=True)
    paused_because = models.JSONField(default=str, blank=True)
    """A message; empty while it is not paused."""
    ended_at = MomentField(null=True, blank=True)
    """When its person left the shop: nothing is sent there. What was sent names it yet."""

    class Meta:
        ordering = ["position", "id"]
        verbose_name_plural = "addresses"
        constraints = [
            models.UniqueConstraint(
                fields=["person", "channel", "digest"],
                name="one_address_once_per_person",
                violation_error_code="one_address_once_per_person",
                violation_error_message=said_later(refusals.ADDRESS_TWICE()),
            ),
            models.CheckConstraint(
                condition=models.Q(channel="message", gateway__isnull=False)
                | (~models.Q(channel="message") & models.Q(gateway__isnull=True)),
                name="a_message_goes_through_a_gateway",
                violation_error_code="a_message_goes_through_a_gateway",
                violation_error_message=said_later(refusals.ADDRESS_GATEWAY()),
            ),
        ]

    def __str__(self) -> str:
        return self.target

    def save(self, *given: Any, **named: Any) -> None:
        """With the digest of its target, unless that stays as it was."""
        if named.get("update_fields") is None:
            self.digest = digest_of(self.target)
        super().save(*given, **named)

    def clean(self) -> None:
        """Refuse what could never be sent to."""
        self.digest = digest_of(self.target)
        if any(ord(char) < 32 or ord(char) == 127 for char in self.target):
            raise ValidationError({"target": said_later(refusals.ADDRESS_ONE_LINE())})
        if self.channel == Channel.EMAIL:
            validate_email(self.target)
        if self.channel == Channel.WEBHOOK and not self.target.startswith(("https://", "http://")):
            raise ValidationError({"target": said_later(refusals.ADDRESS_WEBHOOK())})


class Habits(models.Model):
    """A person's day: when not to be told, and whether to be told all at once."""

    person = models.OneToOneField(
        Person, models.CASCADE, primary_key=True, related_name="notice_habits"
    )
    time_zone = models.CharField(max_length=64, validators=[check_zone])
    quiet_from = models.TimeField(null=True, blank=True)
    quiet_to = models.TimeField(null=True, blank=True)
    digest_at = models.TimeField(null=True, blank=True)
    """The hour of the one message a day; unset: each notice by itself."""

    class Meta:
        ordering = ["person_id"]
        verbose_name_plural = "habits"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(quiet_from__isnull=True, quiet_to__isnull=True)
                | models.Q(quiet_from__isnull=False, quiet_to__isnull=False),
                name="quiet_hours_have_two_ends",
                violation_error_code="quiet_hours_have_two_ends",
                violation_error_message=said_later(refusals.QUIET_ENDS()),
            )
        ]

    def __str__(self) -> str:
        return f"habits of {self.person}"


class Wish(models.Model):
    """How a person wishes to be told of one kind of notice."""

    class Way(models.TextChoices):
        """By what, or not at all."""

        FIRST = "first", said_later(choices.FIRST_ADDRESS())
        EMAIL = "email", said_later(choices.EMAIL())
        MESSAGE = "message", said_later(choices.MESSAGE())
        WEBHOOK = "webhook", said_later(choices.WEBHOOK())
        NOT = "not", said_later(choices.SITE_ALONE())

    person = models.ForeignKey(Person, models.CASCADE, related_name="notice_wishes")
    kind = models.CharField(max_length=12, choices=NoticeKind.choices)
    way = models.CharField(max_length=8, choices=Way.choices, default=Way.FIRST)
    at_once = models.BooleanField(default=False)
    """By itself even when the person has one message a day."""

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "wishes"
        constraints = [
            models.UniqueConstraint(
                fields=["person", "kind"],
                name="one_wish_per_kind",
                violation_error_code="one_wish_per_kind",
                violation_error_message=said_later(refusals.WISH_TWICE()),
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind}: {self.way}"
