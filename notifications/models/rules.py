"""What a shop set about its notices: at what hours, how long before, how long to wait."""

from datetime import time

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from config.languages import said_later
from jobs.models import Person, Shop
from jobs.models.fields import CountField, MomentField
from notifications.messages import refusals


def permit_days_default() -> list[int]:
    """Days before a permit ends on which to say so."""
    return [30, 14, 7]


def cover_days_default() -> list[int]:
    """Days before the cover starts on which to say what is still held."""
    return [3, 1]


def check_days(value: object) -> None:
    """Refuse what is not a list of days, the most first."""
    refused = ValidationError(said_later(refusals.DAYS_LIST()))
    if not isinstance(value, list):
        raise refused
    fit = all(isinstance(n, int) and 0 < n <= 365 for n in value)
    if not fit or value != sorted(set(value), reverse=True):
        raise refused


class NoticeRules(models.Model):
    """One shop's choices; a new shop has the defaults."""

    shop = models.OneToOneField(Shop, models.CASCADE, primary_key=True, related_name="notice_rules")
    morning = models.TimeField(default=time(7))
    """When that which follows from the calendar is told, by the clock at the house."""
    list_at = models.TimeField(default=time(16))
    """When the next day's lists, and inspections of the next day, are told."""
    permit_wait_days = CountField(most=365, default=14)
    """A permit not issued so many days after it was applied for is worth a call."""
    permit_days = models.JSONField(default=permit_days_default, validators=[check_days])
    cover_days = models.JSONField(default=cover_days_default, validators=[check_days])
    acknowledge_minutes = models.PositiveSmallIntegerField(
        default=15, validators=[MinValueValidator(1), MaxValueValidator(1440)]
    )
    """How long an urgent notice waits for a sign before it goes on."""
    summary_on = models.PositiveSmallIntegerField(default=0, validators=[MaxValueValidator(6)])
    """Weekday of the summary, 0 for Monday."""
    owner = models.ForeignKey(
        Person, models.SET_NULL, null=True, blank=True, related_name="owned_shops"
    )
    """Who gets the weekly summary; unset: the office."""
    private_webhooks = models.BooleanField(default=False)
    """Read by nothing: STUDBAY_PRIVATE_NETWORKS says so. It goes in the next version."""
    next_at = MomentField(null=True, blank=True, db_index=True)
    """The next moment at which something about the shop itself is due; null: not drawn yet."""

    class Meta:
        ordering = ["shop_id"]
        verbose_name_plural = "notice rules"

    def __str__(self) -> str:
        return f"notices of {self.shop}"
