"""Work promised, added or reported done; plans, and the lists that crews were sent."""

from django.db import models
from django.db.models import Q

from config.languages import say

from .base import Record
from .crews import Crew, Skill
from .fields import CountField, DayField, LongCountField, MomentField, SentListField
from .jobs import Area, Job
from .shops import Person, Shop


class PromisedDate(Record):
    """A date given to a builder, beside the drywall date of the job itself."""

    class What(models.TextChoices):
        """What was promised for the day."""

        FINISH = "finish", "finish done"
        FINAL = "final", "final accepted"

    job = models.ForeignKey(Job, models.CASCADE, related_name="promised")
    what = models.CharField(max_length=12, choices=What.choices)
    on = DayField()
    weight = CountField(most=1000, default=1)
    """How much a day late weighs against a day late elsewhere."""

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "what"],
                name="promised_once_per_job",
                violation_error_code="promised_once_per_job",
                violation_error_message="A day for this is promised already; change that one.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_what_display()} by {self.on}"


class OwnTask(Record):
    """Work that the office adds to a job by hand."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="own_tasks")
    area = models.ForeignKey(Area, models.SET_NULL, null=True, blank=True, related_name="+")
    name = models.CharField(max_length=120)
    minutes = LongCountField(most=60_000)
    """Person-minutes."""
    skill = models.CharField(max_length=12, choices=Skill.choices, blank=True)
    not_before = DayField(null=True, blank=True)
    due_on = DayField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(minutes__gt=0),
                name="own_task_is_work",
                violation_error_code="own_task_is_work",
                violation_error_message="A task takes at least 1 minute.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class WorkReport(Record):
    """A crew's word that a task is done, or that it is not. The last one counts."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="work_reports")
    task = models.CharField(max_length=80)
    """The key of the task within its job, such as `rough-in/bedroom`."""
    done = models.BooleanField(default=True)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        return f"{self.task}: {'done' if self.done else 'not done'}"


class Plan(Record):
    """Who does what on which day over the coming weeks, as it was worked out at one time."""

    class State(models.TextChoices):
        """Where the working out stands."""

        ASKED = "asked", "being worked out"
        MADE = "made", "worked out"
        REFUSED = "refused", "cannot be worked out"
        FAILED = "failed", "broke off"

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="plans")
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    asked_at = MomentField()
    first_day = DayField()
    supposing = models.JSONField(default=list, blank=True)
    """What is supposed for the sake of seeing what would follow; such a plan cannot be told."""
    state = models.CharField(max_length=8, choices=State.choices, default=State.ASKED)
    begun_at = MomentField(null=True, blank=True)
    """When a worker last took it up."""
    tries = models.PositiveSmallIntegerField(default=0, db_default=0)
    """How often one did."""
    made_at = MomentField(null=True, blank=True)
    faults = models.JSONField(default=list, blank=True)
    """What cannot be planned, as messages; English sentences in a row of before."""
    days = models.JSONField(default=list, blank=True)
    """The working days that it covers, in order."""
    levels = models.JSONField(default=list, blank=True)
    """What was minimised: name, value, bound."""
    late = models.JSONField(default=list, blank=True)
    """Promises that it misses, each with days late and why."""
    left = models.JSONField(default=list, blank=True)
    """What does not fit these weeks."""
    cut_short = models.BooleanField(default=False)
    told_at = MomentField(null=True, blank=True)
    told_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["-asked_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(told_at__isnull=True) | Q(state="made"),
                name="only_a_made_plan_is_told",
                violation_error_code="only_a_made_plan_is_told",
                violation_error_message="Only a plan that is worked out can be sent.",
            ),
            models.CheckConstraint(
                condition=Q(told_at__isnull=True) | Q(supposing=[]),
                name="no_supposition_is_told",
                violation_error_code="no_supposition_is_told",
                violation_error_message="A what-if plan cannot be sent. Make one without it.",
            ),
        ]

    def __str__(self) -> str:
        return f"plan from {self.first_day}"


class PlannedWork(Record):
    """One task or inspection of a plan: which crew, from which part of which day to which."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="work")
    job = models.ForeignKey(Job, models.CASCADE, related_name="+")
    area = models.ForeignKey(Area, models.SET_NULL, null=True, blank=True, related_name="+")
    crew = models.ForeignKey(Crew, models.CASCADE, null=True, blank=True, related_name="work")
    """None: another trade's work."""
    task = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    name = models.JSONField()
    """What is done, as a message; an English sentence in a row of before."""
    minutes = models.PositiveIntegerField(default=0)
    starts_on = DayField()
    start_part = models.PositiveSmallIntegerField()
    ends_on = DayField()
    end_part = models.PositiveSmallIntegerField()
    """The last part that it takes."""

    class Meta:
        ordering = ["starts_on", "start_part", "id"]
        indexes = [models.Index(fields=["plan", "crew", "starts_on"], name="work_of_a_crew")]

    def __str__(self) -> str:
        return f"{say(self.name, 'en')}, {self.starts_on}"


class DayList(Record):
    """What a crew was sent for one day. Kept as it is: a change is another number."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="day_lists")
    crew = models.ForeignKey(Crew, models.CASCADE, related_name="day_lists")
    day = DayField()
    number = models.PositiveSmallIntegerField()
    """1 as first sent; above that, an amendment."""
    content = SentListField()
    changes = models.JSONField(default=list)
    """What is different from the number before, as messages; sentences in a row of before."""
    sent_at = MomentField()
    sent_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["day", "crew", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["crew", "day", "number"],
                name="day_list_number_once",
                violation_error_code="day_list_number_once",
                violation_error_message=(
                    "Somebody sent this list at the same moment. Open it again."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"{self.crew}, {self.day}, number {self.number}"
