"""Shops, the people who work in or with them, and what each may do there."""

from functools import cache
from zoneinfo import available_timezones

from django.contrib.auth.models import AbstractUser
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from config.languages import said_later
from config.languages.available import LANGUAGES, UNITS
from jobs import refusal_messages as words

from .base import Record


def layers_default() -> list[str]:
    """What is put over wiring, the innermost first."""
    return ["insulation", "vapour barrier", "drywall"]


@cache
def zones() -> frozenset[str]:
    """The names in the IANA database; it walks many folders, so they are read once."""
    return frozenset(available_timezones())


def check_zone(name: str) -> None:
    """Refuse a time zone that the IANA database does not hold."""
    if name not in zones():
        raise ValidationError(said_later(words.TIME_ZONE_UNKNOWN(name=name)))


class Shop(Record):
    """An electrical contractor that runs Studbay: the tenant."""

    name = models.CharField(max_length=120)
    time_zone = models.CharField(max_length=64, validators=[check_zone])
    trades = models.JSONField(default=list, blank=True)
    """Other trades whose rough-in must be reported done before an area may be covered."""
    layers = models.JSONField(default=layers_default, blank=True)
    """What covers an area, the innermost first; each waits for the one beneath it."""
    photo_rules = models.JSONField(default=list, blank=True)
    """Rules whose items need a photograph before they are concealed."""
    keeps_locations = models.BooleanField(default=False)
    """Whether photographs keep where and when they were taken; else that is taken out of them."""
    office_looks_first = models.BooleanField(default=False, db_default=False)
    """Whether only the office corrects facts of a house; people on site say what they found."""

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.name


class Builder(Record):
    """A firm that builds houses, as one shop knows it."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="builders")
    name = models.CharField(max_length=120)

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "name"],
                name="builder_name_once_per_shop",
                violation_error_code="builder_name_once_per_shop",
                violation_error_message="This builder is in the list already.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class Person(AbstractUser):
    """Somebody who signs in."""

    id = Record._meta.get_field("id").clone()
    language = models.CharField(
        max_length=5, blank=True, choices=LANGUAGES, default="", db_default=""
    )
    """What the person reads; empty: whatever the browser asks for, and English by mail."""
    units = models.CharField(max_length=10, blank=True, choices=UNITS, default="", db_default="")
    """What the person measures in; empty: feet and inches."""

    class Meta(AbstractUser.Meta):
        ordering = ["id"]

    def __str__(self) -> str:
        return self.get_full_name() or self.username


class Role(models.TextChoices):
    """What a person is to a shop."""

    OFFICE = "office", "office"
    CREW_LEAD = "crew_lead", "crew lead"
    CREW_MEMBER = "crew_member", "crew member"
    BUILDER = "builder", "builder"


class Membership(Record):
    """One person's role in one shop; a builder's people belong to a firm as well."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="memberships")
    person = models.ForeignKey(Person, models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=20, choices=Role.choices)
    builder = models.ForeignKey(
        Builder, models.CASCADE, null=True, blank=True, related_name="memberships"
    )

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "person"],
                name="one_role_per_person_and_shop",
                violation_error_code="one_role_per_person_and_shop",
                violation_error_message=(
                    "This person is in the shop already; change their role instead."
                ),
            ),
            models.CheckConstraint(
                condition=Q(role=Role.BUILDER, builder__isnull=False)
                | (~Q(role=Role.BUILDER) & Q(builder__isnull=True)),
                name="builder_people_have_a_firm",
                violation_error_code="builder_people_have_a_firm",
                violation_error_message=(
                    "Name the firm of a builder's person; leave it empty for the shop's own people."
                ),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person}, {self.get_role_display()} at {self.shop}"
