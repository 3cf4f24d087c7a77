"""Cover releases, and the copies of conclusions that are kept for the sake of fast lists."""

from typing import Any

from django.db import models
from django.db.models import Q

from config.languages.own_words import Typed
from jobs.models import Area, Job, Person, Record
from jobs.models.fields import MomentField


class CoverRelease(Record):
    """The record that an area may be covered; live until it is withdrawn."""

    area = models.ForeignKey(Area, models.PROTECT, related_name="cover_releases")
    acceptance = models.ForeignKey(
        "inspections.Acceptance", models.PROTECT, related_name="cover_releases"
    )
    reference = models.CharField(max_length=60)
    issued_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    issued_at = MomentField()
    withdrawn_at = MomentField(null=True, blank=True)
    withdrawn_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    withdrawn_because = models.CharField(max_length=500, blank=True)
    """As somebody typed it; in English what held the area, where nobody withdrew it by hand."""
    withdrawn_holds = models.JSONField(null=True, blank=True)
    """What held the area then, as messages, where nobody withdrew it by hand."""

    class Meta:
        ordering = ["issued_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["area"],
                condition=Q(withdrawn_at__isnull=True),
                name="one_live_cover_release_per_area",
                violation_error_code="one_live_cover_release_per_area",
                violation_error_message="This area is already released for cover.",
            ),
            models.CheckConstraint(
                condition=~Q(reference=""),
                name="cover_release_has_reference",
                violation_error_code="cover_release_has_reference",
                violation_error_message="Give the authority's reference.",
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_at__isnull=True) | ~Q(withdrawn_because=""),
                name="withdrawn_cover_release_says_why",
                violation_error_code="withdrawn_cover_release_says_why",
                violation_error_message="Enter why the cover release is withdrawn.",
            ),
        ]

    @property
    def answer(self) -> "WithdrawalAnswer | None":
        """What was done about the reason of its withdrawal, once somebody said so."""
        return getattr(self, "withdrawal_answer", None)

    @property
    def unanswered(self) -> bool:
        """Whether somebody withdrew it for a reason that nobody has answered."""
        return self.withdrawn_by_id is not None and self.answer is None

    @property
    def because(self) -> Any:
        """Why it was withdrawn, to be said: a message as it is kept, or what somebody typed."""
        if self.withdrawn_by_id is not None:
            return Typed(self.withdrawn_because)
        return self.withdrawn_holds or self.withdrawn_because

    @property
    def live(self) -> bool:
        """Whether the area may be covered on the strength of this record."""
        return self.withdrawn_at is None

    def __str__(self) -> str:
        return f"{self.reference} ({'live' if self.live else 'withdrawn'})"


class WithdrawalAnswer(Record):
    """What was done about the reason for which somebody withdrew a cover release. Kept as it is."""

    cover_release = models.OneToOneField(
        CoverRelease,
        models.PROTECT,
        related_name="withdrawal_answer",
        error_messages={"unique": "This withdrawal was answered already."},
    )
    says = models.CharField(max_length=500)
    inspect_again = models.BooleanField(default=False)
    """Whether the authority has to see the area again: an acceptance recorded before the
    withdrawal is no ground any more."""
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(says=""),
                name="withdrawal_answer_says_something",
                violation_error_code="withdrawal_answer_says_something",
                violation_error_message="Say what was done about the reason of the withdrawal.",
            )
        ]

    def __str__(self) -> str:
        return self.says


class AreaStanding(models.Model):
    """A copy of what follows for an area, written under the area's lock.

    It is never the authority, but the database holds it to the first invariant: no row may
    say that an area with holds is released.
    """

    area = models.OneToOneField(Area, models.CASCADE, primary_key=True, related_name="standing")
    hold_count = models.PositiveIntegerField()
    released = models.BooleanField(default=False)
    holds = models.JSONField(default=list)

    class Meta:
        ordering = ["area_id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(released=False) | Q(hold_count=0),
                name="no_cover_release_with_a_hold",
                violation_error_code="no_cover_release_with_a_hold",
                violation_error_message="An area with a hold cannot be released for cover.",
            )
        ]

    def __str__(self) -> str:
        if self.released:
            return "clear"
        return f"{self.hold_count} holds"


class JobStanding(models.Model):
    """A copy of a job's stage, and how far settling has come behind the facts.

    `facts` grows by one in each transaction that changes a fact; `settled` is the value of
    `facts` that the last settling saw. A job whose two numbers differ is due, and one whose
    `next_at` has come. One that cannot be settled is set aside and tried again at `try_at`.
    """

    job = models.OneToOneField(Job, models.CASCADE, primary_key=True, related_name="standing")
    facts = models.PositiveBigIntegerField(default=0)
    settled = models.PositiveBigIntegerField(default=0)
    next_at = MomentField(null=True, blank=True)
    """The next moment at which the clock alone changes a conclusion; null: none ahead."""
    drawn_at = MomentField(null=True, blank=True)
    """When the holds of all its areas were last drawn; null: not since this is kept."""
    set_aside_at = MomentField(null=True, blank=True)
    """Since when it cannot be settled; null: it can."""
    set_aside_because = models.CharField(max_length=200, blank=True, default="", db_default="")
    tries = models.PositiveSmallIntegerField(default=0, db_default=0)
    """How often settling failed since it was set aside."""
    try_at = MomentField(null=True, blank=True)
    stage = models.CharField(max_length=30, default="permit")
    rules = models.CharField(max_length=16, blank=True, default="", db_default="")
    """The rules by which its items are worded, as their digest; others: they are newer."""
    record_number = models.PositiveIntegerField(default=0)
    record_chain = models.CharField(max_length=64, blank=True)

    class Meta:
        ordering = ["job_id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(settled__lte=models.F("facts")),
                name="settled_never_ahead_of_facts",
                violation_error_code="settled_never_ahead_of_facts",
                violation_error_message="A job is never settled ahead of its facts.",
            )
        ]
        indexes = [
            models.Index(
                fields=["job"],
                condition=Q(settled__lt=models.F("facts")),
                name="jobs_due_to_settle",
            ),
            models.Index(fields=["next_at"], name="jobs_by_next_moment"),
        ]

    def __str__(self) -> str:
        return self.stage
