"""Shapes of house revisions, findings, items and what was seen of them."""

from typing import Any

from rest_framework import serializers

from api.serializers.fields import FindingField, GivenMoment, MeasureField
from config.languages import say
from config.messages.kept import in_english
from config.messages.lengths import MOST_TYPED, is_bare, without_unit
from inspections.checker.measures import Measure
from inspections.models import (
    Given,
    HouseRevision,
    Outcome,
    Pack,
    Photograph,
    SiteChange,
    SiteChangeAnswer,
)
from inspections.overview.rooms import RoomToConfirm
from inspections.papers.sheets.frame import PAPERS
from inspections.selectors import ChecklistLine
from inspections.services.walks import Taken, TickState
from inspections.standing.holds import Standing
from inspections.standing.sources import KnownBy
from jobs.moments import PAST_MOMENT, PHONE_CLOCK


class RevisionSerializer(serializers.Serializer[HouseRevision]):
    """One recorded state of a house."""

    number = serializers.IntegerField()
    rulebook = serializers.CharField()
    amendments = serializers.CharField()
    why = serializers.CharField()
    recorded_by = serializers.CharField(source="recorded_by.username")
    recorded_at = serializers.DateTimeField()


class HouseSerializer(serializers.Serializer[None]):
    """A house to record. `base` is the number of the revision that it changes, 0 for none."""

    house = serializers.DictField()
    rulebook = serializers.CharField(required=False, max_length=40, allow_blank=True)
    why = serializers.CharField(required=False, max_length=200, allow_blank=True)
    base = serializers.IntegerField(required=False, min_value=0)


class TrialSerializer(serializers.Serializer[None]):
    """A house that is not recorded. Without `house` the latest revision is taken."""

    house = serializers.DictField(required=False)
    rulebook = serializers.CharField(required=False, max_length=40, allow_blank=True)


class ProposingSerializer(TrialSerializer):
    """What would finish it: keys of proposals to leave out, and how the shop sets studs."""

    left_out = serializers.ListField(
        child=serializers.CharField(max_length=200), required=False, max_length=2000
    )
    stud_spacing_mm = serializers.FloatField(required=False, min_value=200, max_value=1300)


class ProposalSerializer(serializers.Serializer[None]):
    """Something to add, and why nothing smaller does."""

    key = serializers.CharField()
    kind = serializers.CharField()
    says = serializers.CharField()
    proof = serializers.CharField()

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        """With `for`, a word that Python keeps for itself."""
        return super().get_fields() | {"for": serializers.CharField()}


class UnsolvedSerializer(serializers.Serializer[None]):
    """What nothing was proposed for, and the fact or the change that is missing."""

    kind = serializers.CharField()
    why = serializers.CharField()

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        """With `for`, as a proposal has."""
        return super().get_fields() | {"for": serializers.CharField()}


class FinishedSerializer(serializers.Serializer[None]):
    """The house with what was kept, all that was proposed, and what is not to code all the same."""

    house = serializers.DictField()
    proposals = ProposalSerializer(many=True)
    unsolved = UnsolvedSerializer(many=True)
    not_to_code = serializers.ListField(child=serializers.DictField())


class FindingsSerializer(serializers.Serializer[None]):
    """A whole check of a house."""

    house = serializers.CharField()
    rulebook = serializers.DictField()
    amendments = serializers.CharField(allow_blank=True)
    amended = serializers.ListField(child=serializers.DictField())
    silent = serializers.ListField(child=serializers.CharField())
    counts = serializers.DictField(child=serializers.IntegerField())
    findings = serializers.ListField(child=FindingField())


WHY_NA = "With `na` it says why the check does not apply here, and is required."


class MeasureSerializer(serializers.Serializer[Any]):
    """What a tape showed: its figure, what was typed, or both."""

    measured_mm = MeasureField(
        required=False,
        allow_null=True,
        help_text="What a tape showed; 422 when a pass contradicts the item's limit.",
    )
    measured_typed = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=MOST_TYPED,
        help_text='The same as it was typed, with its unit, such as 6 1/4" or 160 mm. It gives '
        "`measured_mm` where that is not given; 422 when the two differ by more than 0.01 mm.",
    )

    def validate(self, given: dict[str, Any]) -> dict[str, Any]:
        """What was given, unless a number stands alone: programs have no unit of their own."""
        typed = given.get("measured_typed", "")
        if given.get("measured_mm") is None and is_bare(typed):
            raise serializers.ValidationError({"measured_typed": say(without_unit(typed))})
        return given


class ObservationSerializer(MeasureSerializer):
    """What somebody saw of an item."""

    id = serializers.UUIDField(read_only=True)
    outcome = serializers.ChoiceField(choices=Outcome.choices)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500, help_text=WHY_NA)
    given = serializers.ChoiceField(
        choices=Given.choices,
        read_only=True,
        help_text="`each` by itself, `room` with all that was as drawn in a room, or `fixed` by "
        "whoever corrected a fact of it on site.",
    )
    seen_by = serializers.CharField(read_only=True, source="seen_by.username")
    seen_at = GivenMoment(PAST_MOMENT, required=False)
    fingerprint = serializers.RegexField(
        "^[0-9a-f]{16}$",
        required=False,
        help_text="Of the facts that were looked at; 409 when they have changed since.",
    )


class PackSerializer(serializers.Serializer[Pack]):
    """A pack of sheets, and how far it is."""

    id = serializers.UUIDField(read_only=True)
    kind = serializers.ChoiceField(choices=Pack.Kind.choices)
    paper = serializers.ChoiceField(choices=list(PAPERS), required=False)
    state = serializers.ChoiceField(choices=Pack.State.choices, read_only=True)
    parts = serializers.IntegerField(read_only=True)
    done = serializers.IntegerField(read_only=True)
    part = serializers.SerializerMethodField()

    def get_part(self, pack: Pack) -> str:
        """The part that is being made, in English."""
        return in_english(pack.part)


class SiteChangeSerializer(serializers.Serializer[SiteChange]):
    """Where a box was found, other than the house says; `id` is its maker's own."""

    id = serializers.UUIDField()
    box = serializers.CharField(max_length=40)
    wall = serializers.CharField(max_length=40, required=False)
    at_mm = MeasureField(max_value=1_000_000)
    height_mm = MeasureField(max_value=1_000_000, required=False, allow_null=True)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)
    made_at = GivenMoment(PHONE_CLOCK, required=False, write_only=True)
    revision = serializers.IntegerField(read_only=True)
    seen_by = serializers.CharField(read_only=True, source="seen_by.username")
    seen_at = serializers.DateTimeField(read_only=True)


class SiteChangeAnswerSerializer(serializers.Serializer[SiteChangeAnswer]):
    """What the office says of a site change: accepted, it becomes a revision."""

    accepted = serializers.BooleanField()
    why = serializers.CharField(required=False, allow_blank=True, max_length=200)
    revision = serializers.IntegerField(read_only=True, allow_null=True)
    answered_at = serializers.DateTimeField(read_only=True)


class MeasuredSerializer(serializers.Serializer[Measure]):
    """What a tape is put to for an item, and the limits that a pass is held to, in mm."""

    what = serializers.CharField()
    min_mm = serializers.FloatField(allow_null=True)
    max_mm = serializers.FloatField(allow_null=True)


class ItemSerializer(serializers.Serializer[ChecklistLine]):
    """One line of a checklist."""

    id = serializers.UUIDField(source="item.id")
    area = serializers.CharField(source="item.area.code")
    rule = serializers.CharField(source="item.rule")
    subject = serializers.CharField(source="item.subject")
    verdict = serializers.CharField(source="item.verdict")
    standing = serializers.ChoiceField(choices=[(s.value, s.value) for s in Standing])
    known_by = serializers.ChoiceField(
        choices=[(each.value, each.value) for each in KnownBy],
        allow_null=True,
        help_text="How it is known to be OK: `drawn` on the plan, `stated` or `measured` on site; "
        "null while it is not OK. N/A is `stated`, and the outcome of `latest` says so.",
    )
    changed_since = serializers.BooleanField()
    finding = FindingField(source="item.finding")
    measure = MeasuredSerializer(source="item.measure", allow_null=True)
    contested = serializers.BooleanField()
    """Whether looks at the same facts differ and none of them answers the other."""
    latest = ObservationSerializer(allow_null=True)


class RoomSerializer(serializers.Serializer[RoomToConfirm]):
    """A room with its items that are OK on plan and that nobody on site has answered."""

    area = serializers.CharField()
    room = serializers.CharField()
    name = serializers.CharField()
    items = ItemSerializer(many=True, source="lines")


class DrawnItemSerializer(serializers.Serializer[None]):
    """An item that is as drawn, and the facts of it that somebody compared with the wall."""

    item = serializers.UUIDField()
    fingerprint = serializers.RegexField(
        "^[0-9a-f]{16}$",
        help_text="Of the facts that were looked at; 409 when they have changed since.",
    )


class AsDrawnSerializer(serializers.Serializer[None]):
    """What is as drawn in a room, said at once."""

    items: serializers.ListSerializer[list[dict[str, object]]] = serializers.ListSerializer(
        child=DrawnItemSerializer(), min_length=1, max_length=500
    )
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)
    seen_at = GivenMoment(PAST_MOMENT, required=False)


class PhotographSerializer(serializers.Serializer[Photograph]):
    """A photograph of an item, without its picture."""

    id = serializers.UUIDField()
    digest = serializers.CharField()
    fingerprint = serializers.CharField()
    recorded_at = serializers.DateTimeField()


class UploadSerializer(serializers.Serializer[None]):
    """A picture to keep."""

    file = serializers.FileField()


class TickSerializer(MeasureSerializer):
    """One tick as its maker tells it."""

    id = serializers.UUIDField()
    item = serializers.UUIDField()
    outcome = serializers.ChoiceField(choices=Outcome.choices)
    fingerprint = serializers.CharField(max_length=16)
    made_at = GivenMoment(PHONE_CLOCK)
    known_at = GivenMoment(PHONE_CLOCK)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500, help_text=WHY_NA)
    given = serializers.ChoiceField(
        choices=[(each.value, each.label) for each in (Given.EACH, Given.ROOM)],
        required=False,
        help_text="`room` for an OK that was given with all that is as drawn in a room.",
    )


class WalkSerializer(serializers.Serializer[None]):
    """Ticks, and the clock of what made them as it sends."""

    phone_now = GivenMoment(PHONE_CLOCK)
    ticks: serializers.ListSerializer[list[dict[str, object]]] = serializers.ListSerializer(
        child=TickSerializer(), max_length=500
    )


class TakenSerializer(serializers.Serializer[Taken]):
    """What became of one tick."""

    id = serializers.UUIDField()
    state = serializers.ChoiceField(choices=[(each.value, each.value) for each in TickState])
    says = serializers.CharField(allow_blank=True)
