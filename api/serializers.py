"""Shapes of what the API gives and takes. Words are those of the pages."""

from rest_framework import serializers

from inspections.holds import Standing
from inspections.models import Basis, Outcome


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
    basis = serializers.ChoiceField(choices=Basis.choices)
    reference = serializers.CharField(max_length=60)
    issued_at = serializers.DateTimeField(read_only=True)
    withdrawn_at = serializers.DateTimeField(read_only=True, allow_null=True)
    withdrawn_because = serializers.CharField(read_only=True)


class ReasonSerializer(serializers.Serializer):
    """Why something is taken back."""

    because = serializers.CharField(max_length=500)
