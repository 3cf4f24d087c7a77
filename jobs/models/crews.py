"""Crews: who is in them on which day, what each person may do, when each is away."""

from datetime import time

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

from config.languages import said_later
from jobs.planning.rates import STARTING, Rates, RatesFault

from .authorities import check_closures, check_weekdays, weekdays_default
from .base import Record
from .fields import CountField, DayField
from .shops import Person, Shop

LATITUDE = [MinValueValidator(-90), MaxValueValidator(90)]
LONGITUDE = [MinValueValidator(-180), MaxValueValidator(180)]


def rates_default() -> dict[str, float]:
    """The starting rates: invented, for a shop to put right."""
    return dict(STARTING)


def check_rates(value: object) -> None:
    """Refuse rates that are unknown, missing or not minutes."""
    try:
        Rates.of(value)
    except RatesFault as fault:
        raise ValidationError(said_later(fault.text)) from None


class WorkRules(Record):
    """How a shop works: days, hours, how long things take, how fast it drives."""

    shop = models.OneToOneField(
        Shop,
        models.CASCADE,
        related_name="work_rules",
        error_messages={"unique": "This shop has work rules already; change those."},
    )
    works_on = models.JSONField(default=weekdays_default, validators=[check_weekdays])
    from_hour = models.TimeField(default=time(8))
    parts = models.PositiveSmallIntegerField(
        default=2, validators=[MinValueValidator(1), MaxValueValidator(8)]
    )
    """Into how many parts a day is planned; 2 are half days."""
    part_minutes = models.PositiveSmallIntegerField(
        default=240, validators=[MinValueValidator(30), MaxValueValidator(600)]
    )
    """Working minutes of each part."""
    break_minutes = CountField(most=240, default=30)
    """Between one part of the day and the next."""
    country = models.CharField(max_length=2, blank=True)
    region = models.CharField(max_length=5, blank=True)
    closures = models.JSONField(default=dict, blank=True, validators=[check_closures])
    weeks = models.PositiveSmallIntegerField(
        default=6, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    """How far ahead to plan."""
    rates = models.JSONField(default=rates_default, validators=[check_rates])
    apprentices_per_licensed = CountField(most=20, null=True, blank=True)
    """Apprentices that one licensed person may have on a site; unset: no ratio is kept."""
    speed_kmh = models.PositiveSmallIntegerField(
        default=40, validators=[MinValueValidator(5), MaxValueValidator(130)]
    )
    """Over the straight line between two places, where no driving time is given."""
    yard_latitude = models.FloatField(null=True, blank=True, validators=LATITUDE)
    yard_longitude = models.FloatField(null=True, blank=True, validators=LONGITUDE)
    change_cost = CountField(most=1000, default=1)
    """Days late that moving one task, once told, must save; 0: any saving moves it."""
    cover_days = CountField(most=60, default=10)
    """Working days from an area's release until finish can begin: insulation, board, paint."""

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "work rules"

    def __str__(self) -> str:
        return f"work rules of {self.shop}"


class Skill(models.TextChoices):
    """What a person may do, or needs."""

    LICENSED = "licensed", "licensed"
    APPRENTICE = "apprentice", "apprentice"


class PersonSkill(Record):
    """One skill of one person in one shop."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="skills")
    person = models.ForeignKey(Person, models.CASCADE, related_name="skills")
    skill = models.CharField(max_length=12, choices=Skill.choices)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "person", "skill"],
                name="a_skill_once_per_person",
                violation_error_code="a_skill_once_per_person",
                violation_error_message="This person has that skill already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.skill}"


class Crew(Record):
    """People who work together, and who leads them."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="crews")
    name = models.CharField(max_length=60)
    lead = models.ForeignKey(
        Person, models.SET_NULL, null=True, blank=True, related_name="led_crews"
    )
    latitude = models.FloatField(null=True, blank=True, validators=LATITUDE)
    longitude = models.FloatField(null=True, blank=True, validators=LONGITUDE)
    """Where it starts its day, when that is not the shop's yard."""
    stood_down_on = DayField(null=True, blank=True)
    """The day from which it is no longer a crew."""

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "name"],
                name="crew_name_once_per_shop",
                violation_error_code="crew_name_once_per_shop",
                violation_error_message="A crew has that name already; choose another.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class CrewPlace(Record):
    """A person in a crew from one day to another. The latest to begin is where they are."""

    crew = models.ForeignKey(Crew, models.CASCADE, related_name="places")
    person = models.ForeignKey(Person, models.CASCADE, related_name="crew_places")
    from_day = DayField()
    to_day = DayField(null=True, blank=True)

    class Meta:
        ordering = ["from_day", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(to_day__isnull=True) | Q(to_day__gte=F("from_day")),
                name="crew_place_ends_after_it_begins",
                violation_error_code="crew_place_ends_after_it_begins",
                violation_error_message="The last day is before the first.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.person} in {self.crew} from {self.from_day}"


class Absence(Record):
    """Days on which a person does not work."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="absences")
    person = models.ForeignKey(Person, models.CASCADE, related_name="absences")
    from_day = DayField()
    to_day = DayField()
    why = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["from_day", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(to_day__gte=F("from_day")),
                name="absence_ends_after_it_begins",
                violation_error_code="absence_ends_after_it_begins",
                violation_error_message="The last day is before the first.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.person} away {self.from_day} to {self.to_day}"


class Site(Record):
    """Where a job's house stands, in degrees (WGS 84)."""

    job = models.OneToOneField(
        "jobs.Job",
        models.CASCADE,
        related_name="site",
        error_messages={"unique": "Where this house stands is recorded already; change that."},
    )
    latitude = models.FloatField(validators=LATITUDE)
    longitude = models.FloatField(validators=LONGITUDE)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.latitude}, {self.longitude}"


class DriveTime(Record):
    """Minutes of driving between two houses, or from the yard (no first house) to one."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="drive_times")
    start = models.ForeignKey("jobs.Job", models.CASCADE, null=True, blank=True, related_name="+")
    end = models.ForeignKey("jobs.Job", models.CASCADE, related_name="+")
    minutes = models.PositiveSmallIntegerField(validators=[MaxValueValidator(600)])

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "start", "end"],
                name="one_drive_time_each_way",
                violation_error_code="one_drive_time_each_way",
                violation_error_message="A driving time between these two is recorded already.",
                nulls_distinct=False,
            )
        ]

    def __str__(self) -> str:
        return f"{self.minutes} minutes"
