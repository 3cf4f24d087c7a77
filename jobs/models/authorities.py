"""Authorities as data that a shop edits: what they ask before they come, and when they come."""

from datetime import time
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from config.languages import said_later
from jobs import refusal_messages as words
from jobs.moments import ANY_DAY, DayRefused, day_given, day_on_record
from jobs.planning.inspections import InspectionRules
from jobs.planning.working_days import Calendar

from .base import Record
from .fields import CountField


def weekdays_default() -> list[int]:
    """Monday to Friday."""
    return [0, 1, 2, 3, 4]


def check_weekdays(value: object) -> None:
    """Refuse what is not a list of weekdays, 0 for Monday to 6 for Sunday."""
    if not isinstance(value, list) or not value or not set(value) <= set(range(7)):
        raise ValidationError(said_later(words.WEEKDAYS_NONE()))


def check_closures(value: object) -> None:
    """Refuse what is not a table of dates with a reason each."""
    if not isinstance(value, dict):
        raise ValidationError(said_later(words.CLOSURES_UNREAD()))
    for day in value:
        try:
            day_given(day, ANY_DAY, timezone.now())
        except DayRefused as fault:
            raise ValidationError(said_later(fault.text)) from None


class Authority(Record):
    """The inspection office that a job answers to, with its rules for inspections."""

    shop = models.ForeignKey("jobs.Shop", models.CASCADE, related_name="authorities")
    name = models.CharField(max_length=120)
    source = models.CharField(max_length=200, blank=True)
    notice_days = CountField(most=60, default=1)
    notice_hours = CountField(most=240, default=0)
    cut_off = models.TimeField(null=True, blank=True)
    works_on = models.JSONField(default=weekdays_default, validators=[check_weekdays])
    inspections_on = models.JSONField(default=weekdays_default, validators=[check_weekdays])
    from_hour = models.TimeField(default=time(8))
    to_hour = models.TimeField(default=time(16))
    country = models.CharField(max_length=2, blank=True)
    region = models.CharField(max_length=5, blank=True)
    closures = models.JSONField(default=dict, blank=True, validators=[check_closures])
    reinspection_fee = models.CharField(max_length=40, blank=True)
    idle_days = CountField(most=3650, null=True, blank=True)
    """A permit ends after so many days without an inspection."""
    takes_parts = models.BooleanField(default=True)
    """Whether a rough-in may be inspected area by area."""
    elapsed_hours = CountField(most=720, null=True, blank=True)
    """Concealment may follow so long after an inspection that nobody came to; unset: it may not."""

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "authorities"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(from_hour__lt=models.F("to_hour")),
                name="inspections_have_hours",
                violation_error_code="inspections_have_hours",
                violation_error_message=(
                    "The hours of inspections end before they begin. Set the last hour later "
                    "than the first."
                ),
            )
        ]

    def __str__(self) -> str:
        return self.name

    def inspection_rules(self, zone: ZoneInfo) -> InspectionRules:
        """Its rules as planning takes them, in the zone of a job."""
        closures = {}
        for day, why in self.closures.items():
            closures[day_on_record(day)] = why
        return InspectionRules(
            zone,
            Calendar(frozenset(self.works_on), self.country, self.region, closures),
            notice_days=self.notice_days,
            notice_hours=self.notice_hours,
            cut_off=self.cut_off,
            inspections_on=frozenset(self.inspections_on),
            from_hour=self.from_hour,
            to_hour=self.to_hour,
        )
