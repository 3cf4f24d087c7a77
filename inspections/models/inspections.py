"""Inspections by the authority: asked for, booked, moved, missed or held, and what came of them."""

from django.db import models
from django.db.models import F, Q

from inspections.checker.house import InsulationKind
from jobs.models import Area, Job, Person, Record
from jobs.models.fields import DayField, MomentField


class InspectionKind(models.TextChoices):
    """What an inspection is for."""

    SERVICE = "service", "service"
    ROUGH_IN = "rough_in", "rough-in"
    COVER_UP = "cover_up", "cover-up"
    HOOKUP = "hookup", "construction hookup"
    FINISH = "finish", "finish"
    FINAL = "final", "final"


CONCEALING = (InspectionKind.ROUGH_IN, InspectionKind.COVER_UP)
"""Inspections whose acceptance lets an area be covered."""


class Inspection(Record):
    """One inspection, from the asking to the answer. What happened to it is in its events."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="inspections")
    kind = models.CharField(max_length=12, choices=InspectionKind.choices)
    areas = models.ManyToManyField(Area, related_name="inspections", blank=True)
    asked_at = MomentField()
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    insisted = models.BooleanField(default=False)
    """It was asked for although items were open, on the word of the person who asked."""

    class Meta:
        ordering = ["asked_at", "id"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} visit"


class Happening(models.TextChoices):
    """What can happen to an inspection after it was asked for."""

    BOOKED = "booked", "booked"
    MOVED = "moved", "moved"
    CANCELLED = "cancelled", "cancelled"
    NO_ACCESS = "no_access", "no access"
    NOBODY_CAME = "nobody_came", "nobody came"
    HELD = "held", "held"


class InspectionEvent(Record):
    """One thing that happened to an inspection. Kept as it is; the last says where it stands."""

    inspection = models.ForeignKey(Inspection, models.PROTECT, related_name="events")
    happening = models.CharField(max_length=12, choices=Happening.choices)
    starts_at = MomentField(null=True, blank=True)
    ends_at = MomentField(null=True, blank=True)
    reference = models.CharField(max_length=60, blank=True)
    note = models.CharField(max_length=500, blank=True)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(starts_at__isnull=True) | Q(ends_at__gt=F("starts_at")),
                name="an_inspection_ends_after_it_starts",
                violation_error_code="an_inspection_ends_after_it_starts",
                violation_error_message=(
                    "The visit ends before it starts. Set the end later than the start."
                ),
            ),
            models.CheckConstraint(
                condition=~Q(happening__in=("booked", "moved")) | Q(starts_at__isnull=False),
                name="a_booked_inspection_has_a_window",
                violation_error_code="a_booked_inspection_has_a_window",
                violation_error_message="Give the day and the hours that the visit is booked for.",
            ),
        ]

    def __str__(self) -> str:
        return self.get_happening_display()


class Answer(models.TextChoices):
    """What the inspector said of an area, or of the whole job."""

    ACCEPTED = "accepted", "accepted"
    WITH_DEFICIENCIES = "with_deficiencies", "accepted with deficiencies"
    NOT_ACCEPTED = "not_accepted", "not accepted"


class Acceptance(Record):
    """What the authority said of an area: at an inspection, by waiver, or by the time that passed.

    `rests_on` is a digest of the area's items as they stood, so that a change shows.
    """

    class Basis(models.TextChoices):
        """On what ground."""

        INSPECTION = "inspection", "the inspector's answer at a visit"
        WAIVER = "waiver", "the authority waived the visit"
        ELAPSED = "elapsed", "nobody came in the time stated, and the holder declared it"

    area = models.ForeignKey(Area, models.PROTECT, related_name="acceptances")
    basis = models.CharField(max_length=12, choices=Basis.choices)
    inspection = models.ForeignKey(
        Inspection, models.PROTECT, null=True, blank=True, related_name="answers"
    )
    answer = models.CharField(max_length=20, choices=Answer.choices)
    reference = models.CharField(max_length=60)
    declared_by = models.CharField(max_length=120, blank=True)
    """The licence holder who signed, where time that passed is the ground."""
    rests_on = models.CharField(max_length=16)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["area", "inspection"],
                name="one_answer_per_area_and_inspection",
                violation_error_code="one_answer_per_area_and_inspection",
                violation_error_message="This visit has an answer for that area already.",
            ),
            models.CheckConstraint(
                condition=Q(basis="inspection", inspection__isnull=False) | ~Q(basis="inspection"),
                name="an_answer_at_an_inspection_names_it",
                violation_error_code="an_answer_at_an_inspection_names_it",
                violation_error_message="An answer that was given at a visit names the visit.",
            ),
            models.CheckConstraint(
                condition=~Q(basis="elapsed") | ~Q(declared_by=""),
                name="time_that_passed_needs_a_declaration",
                violation_error_code="time_that_passed_needs_a_declaration",
                violation_error_message=(
                    "Name the licensed person who declares that the time has passed."
                ),
            ),
            models.CheckConstraint(
                condition=~Q(reference=""),
                name="acceptance_has_reference",
                violation_error_code="acceptance_has_reference",
                violation_error_message="Give the authority's reference.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_answer_display()} ({self.reference})"


class JobAnswer(Record):
    """What the inspector said of a job as a whole, at an inspection that is not for areas."""

    inspection = models.OneToOneField(
        Inspection,
        models.PROTECT,
        related_name="job_answer",
        error_messages={"unique": "This visit has an answer for the job already."},
    )
    answer = models.CharField(max_length=20, choices=Answer.choices)
    reference = models.CharField(max_length=60)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(reference=""),
                name="job_answer_has_reference",
                violation_error_code="job_answer_has_reference",
                violation_error_message="Give the authority's reference.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_answer_display()} ({self.reference})"


class Deficiency(Record):
    """Something that the inspector called, until it is corrected and accepted."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="deficiencies")
    area = models.ForeignKey(Area, models.PROTECT, related_name="deficiencies")
    called_at_inspection = models.ForeignKey(Inspection, models.PROTECT, related_name="called")
    what = models.CharField(max_length=500)
    where = models.CharField(max_length=200, blank=True)
    rule = models.CharField(max_length=60, blank=True)
    section = models.CharField(max_length=60, blank=True)
    due_on = DayField(null=True, blank=True)
    called_at = MomentField()
    corrected_at = MomentField(null=True, blank=True)
    corrected_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    accepted_at_inspection = models.ForeignKey(
        Inspection, models.PROTECT, null=True, blank=True, related_name="lifted"
    )
    accepted_at = MomentField(null=True, blank=True)

    class Meta:
        ordering = ["called_at", "id"]
        verbose_name_plural = "deficiencies"
        constraints = [
            models.CheckConstraint(
                condition=Q(accepted_at__isnull=True) | Q(corrected_at__isnull=False),
                name="accepted_after_it_was_corrected",
                violation_error_code="accepted_after_it_was_corrected",
                violation_error_message="A deficiency is accepted only after it was corrected.",
            )
        ]
        indexes = [
            models.Index(
                fields=["area"], condition=Q(accepted_at__isnull=True), name="open_deficiencies"
            )
        ]

    def __str__(self) -> str:
        return self.what


class TradeReport(Record):
    """Another trade's word that its work on a job is done, or no longer is.

    A rough-in is reported for the whole job, a layer of the cover for an area.
    """

    job = models.ForeignKey(Job, models.PROTECT, related_name="trade_reports")
    area = models.ForeignKey(
        Area, models.PROTECT, null=True, blank=True, related_name="trade_reports"
    )
    trade = models.CharField(max_length=40)
    done = models.BooleanField(default=True)
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        return f"{self.trade}: {'done' if self.done else 'not done'}"


INSULATIONS = [(kind.value, kind.value.replace("_", " ")) for kind in InsulationKind]


class InsulationChoice(Record):
    """What somebody chose for the outside walls, and whether it is itself the vapour barrier."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="insulation_choices")
    kind = models.CharField(max_length=12, choices=INSULATIONS)
    vapour_barrier = models.BooleanField()
    recorded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    recorded_at = MomentField()

    class Meta:
        ordering = ["recorded_at", "id"]

    def __str__(self) -> str:
        barrier = "no vapour barrier"
        if self.vapour_barrier:
            barrier = "itself the vapour barrier"
        return f"{self.get_kind_display()}, {barrier}"
