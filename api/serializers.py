"""Shapes of what the API gives and takes. Words are those of the pages."""

from rest_framework import serializers

from inspections.holds import Standing
from inspections.models import INSULATIONS, Answer, Happening, Inspection, Kind, Outcome


class HoldSerializer(serializers.Serializer):
    """One reason why an area may not be covered."""

    reason = serializers.CharField()
    says = serializers.CharField()
    lifted_by = serializers.CharField()


class AreaSerializer(serializers.Serializer):
    """An area of a job, hold or clear."""

    id = serializers.UUIDField()
    code = serializers.CharField()
    name = serializers.CharField()
    cleared = serializers.BooleanField(source="standing.cleared")
    holds = HoldSerializer(source="standing.holds", many=True)


class PermitSerializer(serializers.Serializer):
    """The job's permit."""

    number = serializers.CharField()
    applied_on = serializers.DateField()
    issued_on = serializers.DateField(allow_null=True)
    expires_on = serializers.DateField(allow_null=True)


class JobSerializer(serializers.Serializer):
    """A job with its areas."""

    id = serializers.UUIDField()
    name = serializers.CharField()
    address = serializers.CharField()
    stage = serializers.CharField(source="standing.stage")
    contractor = serializers.CharField(source="contractor.name")
    drywall_on = serializers.DateField(allow_null=True)
    permit = PermitSerializer(allow_null=True)
    areas = AreaSerializer(many=True)


class ObservationSerializer(serializers.Serializer):
    """What somebody saw of an item."""

    id = serializers.UUIDField(read_only=True)
    outcome = serializers.ChoiceField(choices=Outcome.choices)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)
    seen_by = serializers.CharField(read_only=True, source="seen_by.username")
    seen_at = serializers.DateTimeField(required=False)


class ItemSerializer(serializers.Serializer):
    """One line of a checklist."""

    id = serializers.UUIDField(source="item.id")
    area = serializers.CharField(source="item.area.code")
    rule = serializers.CharField(source="item.rule")
    subject = serializers.CharField(source="item.subject")
    verdict = serializers.CharField(source="item.verdict")
    standing = serializers.ChoiceField(choices=[(s.value, s.value) for s in Standing])
    changed_since = serializers.BooleanField()
    finding = serializers.JSONField(source="item.finding")
    latest = ObservationSerializer(allow_null=True)


class ClearanceSerializer(serializers.Serializer):
    """The record that an area may be covered."""

    id = serializers.UUIDField(read_only=True)
    basis = serializers.CharField(read_only=True, source="acceptance.basis")
    reference = serializers.CharField(read_only=True)
    issued_at = serializers.DateTimeField(read_only=True)
    withdrawn_at = serializers.DateTimeField(read_only=True, allow_null=True)
    withdrawn_because = serializers.CharField(read_only=True)


class ReasonSerializer(serializers.Serializer):
    """Why something is taken back."""

    because = serializers.CharField(max_length=500)


class EventSerializer(serializers.Serializer):
    """Something that happened to a visit."""

    happening = serializers.ChoiceField(
        choices=[choice for choice in Happening.choices if choice[0] != Happening.HELD]
    )
    starts_at = serializers.DateTimeField(required=False, allow_null=True)
    ends_at = serializers.DateTimeField(required=False, allow_null=True)
    reference = serializers.CharField(required=False, allow_blank=True, max_length=60)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)


class PastEventSerializer(EventSerializer):
    """One that was recorded, its being held among them."""

    happening = serializers.ChoiceField(choices=Happening.choices)
    recorded_at = serializers.DateTimeField()
    recorded_by = serializers.CharField(source="recorded_by.username")


class VisitSerializer(serializers.Serializer):
    """A visit by the authority and what happened to it."""

    id = serializers.UUIDField()
    kind = serializers.ChoiceField(choices=Kind.choices)
    areas = serializers.SerializerMethodField()
    asked_at = serializers.DateTimeField()
    insisted = serializers.BooleanField()
    events = PastEventSerializer(many=True)

    def get_areas(self, visit: Inspection) -> list[str]:
        """The codes of the areas that it is for."""
        return [area.code for area in visit.areas.all()]


class AskSerializer(serializers.Serializer):
    """A visit to ask for. `insist` asks for it although items are open."""

    kind = serializers.ChoiceField(choices=Kind.choices)
    areas = serializers.ListField(child=serializers.CharField(), required=False)
    insist = serializers.BooleanField(required=False)


class CalledSerializer(serializers.Serializer):
    """A deficiency as the inspector called it."""

    area = serializers.CharField()
    what = serializers.CharField(max_length=500)
    where = serializers.CharField(required=False, allow_blank=True, max_length=200)
    rule = serializers.CharField(required=False, allow_blank=True, max_length=60)
    section = serializers.CharField(required=False, allow_blank=True, max_length=60)
    due_on = serializers.DateField(required=False, allow_null=True)


class AnswerSerializer(serializers.Serializer):
    """What the inspector said: an answer for each area by its code, or one for the job."""

    reference = serializers.CharField(max_length=60)
    answers = serializers.DictField(
        child=serializers.ChoiceField(choices=Answer.choices), required=False
    )
    answer = serializers.ChoiceField(choices=Answer.choices, required=False)
    called = CalledSerializer(many=True, required=False)
    lifted = serializers.ListField(child=serializers.UUIDField(), required=False)


class DeficiencySerializer(serializers.Serializer):
    """Something that the inspector called."""

    id = serializers.UUIDField()
    area = serializers.CharField(source="area.code")
    what = serializers.CharField()
    where = serializers.CharField()
    section = serializers.CharField()
    due_on = serializers.DateField(allow_null=True)
    mended_at = serializers.DateTimeField(allow_null=True)
    accepted_at = serializers.DateTimeField(allow_null=True)


class EarliestSerializer(serializers.Serializer):
    """The first window in which a visit can be, with its working."""

    starts = serializers.DateTimeField()
    ends = serializers.DateTimeField()
    working = serializers.ListField(child=serializers.CharField())


class RecordSerializer(serializers.Serializer):
    """One entry of a job's record."""

    number = serializers.IntegerField()
    at = serializers.DateTimeField()
    by = serializers.CharField(source="by.username")
    origin = serializers.CharField()
    action = serializers.CharField()
    detail = serializers.JSONField()
    before = serializers.JSONField()


class InsulationSerializer(serializers.Serializer):
    """What fills the outside walls, and whether it is itself the vapour barrier."""

    kind = serializers.ChoiceField(choices=INSULATIONS)
    vapour_barrier = serializers.BooleanField()
    recorded_by = serializers.CharField(source="recorded_by.full_name", read_only=True)
    recorded_at = serializers.DateTimeField(read_only=True)


class HappenedSerializer(serializers.Serializer):
    """One thing that happened in an area."""

    at = serializers.DateTimeField()
    what = serializers.CharField()
    by = serializers.CharField()
    weighty = serializers.BooleanField()
