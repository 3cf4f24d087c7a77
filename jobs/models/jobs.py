"""Jobs and their areas and permits: one house under one electrical permit."""

from django.db import models
from django.db.models import F, Q

from .authorities import Authority
from .base import Record
from .fields import DayField
from .shops import Builder, Person, Shop, check_zone


class Job(Record):
    """One house under one electrical permit."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="jobs")
    name = models.CharField(max_length=120)
    address = models.CharField(max_length=200)
    time_zone = models.CharField(max_length=64, validators=[check_zone])
    builder = models.ForeignKey(Builder, models.PROTECT, related_name="jobs")
    authority = models.ForeignKey(Authority, models.PROTECT, related_name="jobs")
    crew_lead = models.ForeignKey(
        Person, models.SET_NULL, null=True, blank=True, related_name="led_jobs"
    )
    drywall_on = DayField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.name


class Area(Record):
    """A part of a job's house that can be covered by itself. Its row is the lock of its holds."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="areas")
    code = models.CharField(max_length=40)
    name = models.CharField(max_length=120)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "code"],
                name="area_code_once_per_job",
                violation_error_code="area_code_once_per_job",
                violation_error_message=(
                    "This job has an area with that code already; give each its own."
                ),
            )
        ]

    def __str__(self) -> str:
        return self.name


class Permit(Record):
    """The authority's leave to wire the house: applied for, then issued with a number."""

    job = models.OneToOneField(
        Job,
        models.CASCADE,
        related_name="permit",
        error_messages={"unique": "This job has a permit already."},
    )
    applied_on = DayField()
    issued_on = DayField(null=True, blank=True)
    expires_on = DayField(null=True, blank=True)
    closed_on = DayField(null=True, blank=True)
    number = models.CharField(max_length=60, blank=True)
    holder = models.CharField(max_length=120, blank=True)
    scope = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(issued_on__isnull=True) | ~Q(number=""),
                name="issued_permit_has_number",
                violation_error_code="issued_permit_has_number",
                violation_error_message="An issued permit has a number; give it.",
            ),
            models.CheckConstraint(
                condition=Q(issued_on__isnull=True) | Q(issued_on__gte=F("applied_on")),
                name="permit_issued_after_application",
                violation_error_code="permit_issued_after_application",
                violation_error_message=(
                    "The permit was issued before it was applied for; check both days."
                ),
            ),
        ]

    def __str__(self) -> str:
        return self.number or "applied for"
