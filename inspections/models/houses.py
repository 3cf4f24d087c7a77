"""House revisions and the items that follow from them."""

from django.db import models
from django.db.models import Q

from config.messages.kept import in_english
from config.messages.lengths import MOST_TYPED
from inspections.checker.measures import Measure
from jobs.models import Area, Job, Person, Record
from jobs.models.fields import MomentField


class HouseRevision(Record):
    """What was roughed in, as somebody recorded it. Never edited: a change is a new revision."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    house = models.TextField()
    rulebook = models.CharField(max_length=40)
    amendments = models.TextField(blank=True)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()
    why = models.CharField(max_length=200, blank=True)
    rules = models.CharField(max_length=16, blank=True, default="", db_default="")
    """The rules that it was checked by, as their digest; empty: before that was kept."""
    limits = models.CharField(max_length=16, blank=True, default="", db_default="")
    """The limits that it was checked by, as the digest of the rulebook with its amendments."""

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "number"],
                name="revision_number_once_per_job",
                violation_error_code="revision_number_once_per_job",
                violation_error_message=(
                    "Somebody recorded a revision at the same moment. Read it, then send "
                    "yours again."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"revision {self.number}"


class Item(Record):
    """One line of a job's checklist: a rule on a subject.

    The identity is a fact that observations point to; all the rest is a copy of the finding
    of the latest revision, made again whenever the house or its rulebook changes.
    """

    class Stage(models.TextChoices):
        """When it is looked at: before the cover, or after it."""

        ROUGH_IN = "rough-in", "rough-in"
        FINISH = "finish", "finish"

    job = models.ForeignKey(Job, models.CASCADE, related_name="items")
    area = models.ForeignKey(Area, models.CASCADE, related_name="items")
    rule = models.CharField(max_length=60)
    subject = models.CharField(max_length=120)
    stage = models.CharField(max_length=10, choices=Stage.choices, default=Stage.ROUGH_IN)
    current = models.BooleanField(default=True)
    position = models.PositiveIntegerField(default=0)
    verdict = models.CharField(max_length=12)
    fingerprint = models.CharField(max_length=16)
    finding = models.JSONField()
    measure_what = models.CharField(max_length=120, blank=True, db_default="", default="")
    """What a tape is put to on site; empty: the rule has nothing measured here."""
    measure_min_mm = models.FloatField(null=True, blank=True)
    """Less than this measured is no pass, whatever is tapped."""
    measure_max_mm = models.FloatField(null=True, blank=True)
    """More than this measured is no pass either."""
    workmanship = models.BooleanField(default=False, db_default=False)
    """Whether hands make it: what is drawn as it should be waits for somebody on site.

    As its rule says, but for items from before rules said so, until their facts change."""
    found_later = models.BooleanField(default=False, db_default=False)
    """Whether a newer rule found it where the wall was released already: it holds nothing."""

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "rule", "subject"],
                name="item_once_per_rule_and_subject",
                violation_error_code="item_once_per_rule_and_subject",
                violation_error_message="This item is on the checklist already.",
            )
        ]
        indexes = [
            models.Index(fields=["area"], condition=Q(current=True), name="current_items_of_area")
        ]

    def __str__(self) -> str:
        return f"{self.rule}:{self.subject}"

    @property
    def measure(self) -> Measure | None:
        """What is measured of it and the limits that a pass is held to; None for nothing."""
        if self.measure_min_mm is None and self.measure_max_mm is None:
            return None
        what = self.measure_what or in_english(self.finding["title"])
        return Measure(what, self.measure_min_mm, self.measure_max_mm)


class Outcome(models.TextChoices):
    """What somebody saw."""

    OK = "ok", "OK"
    FIX = "fix", "Fix"
    CANT_SEE = "cant_see", "Can't see"
    NA = "na", "N/A"


PASSING = (Outcome.OK, Outcome.NA)
"""Answers that settle what eyes settle."""


class Given(models.TextChoices):
    """How an answer was given."""

    EACH = "each", "each by itself"
    ROOM = "room", "as drawn, room by room"
    FIXED = "fixed", "with a correction on site"
    """By whoever corrected a fact of it where he stands: he has seen what he measured."""


class Observation(Record):
    """Somebody's look at an item. Kept as it is; which answers which is said in `answering.py`.

    One that was made on a phone has the id that the phone gave it, so that it comes in once.
    """

    item = models.ForeignKey(Item, models.PROTECT, related_name="observations")
    outcome = models.CharField(max_length=10, choices=Outcome.choices)
    note = models.CharField(max_length=500, blank=True)
    fingerprint = models.CharField(max_length=16)
    given = models.CharField(
        max_length=10, choices=Given.choices, default=Given.EACH, db_default=Given.EACH
    )
    seen_by = models.ForeignKey(Person, models.PROTECT, related_name="observations")
    measured_mm = models.FloatField(null=True, blank=True)
    """What a tape showed, in mm. A pass that its item's limits contradict counts as a fail."""
    measured_typed = models.CharField(max_length=MOST_TYPED, blank=True, default="", db_default="")
    """The same as somebody typed it off the tape: 6 1/4"; empty where only a figure came."""
    seen_at = MomentField()
    """When it was made; never later than it was recorded, whatever a phone's clock says."""
    recorded_at = MomentField()
    phone_at = MomentField(null=True, blank=True)
    """When it was made by the clock of the phone; null: not made on a phone without signal."""
    known_at = MomentField(null=True, blank=True)
    """As of when its maker knew what others saw of the item; null: when it was recorded."""
    stale = models.BooleanField(default=False)
    """Whether the item's facts had changed since its maker knew them; then it does not count."""
    contests = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="+")
    """The look at the same facts that it was in contest with when it came, as its maker was told.

    Where the item stands does not rest on it."""

    class Meta:
        ordering = ["seen_at", "recorded_at", "id"]
        indexes = [
            models.Index(
                fields=["item", "-seen_at", "-recorded_at", "-id"], name="latest_observation"
            ),
            models.Index(
                fields=["item"], condition=Q(contests__isnull=False), name="contested_items"
            ),
        ]
        constraints = [
            models.CheckConstraint(
                condition=~Q(outcome=Outcome.NA) | (~Q(note="") & Q(given=Given.EACH)),
                name="na_says_why",
                violation_error_code="na_says_why",
                violation_error_message=(
                    "N/A is recorded for one check at a time, with its reason."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"{self.outcome} by {self.seen_by}"
