"""Shapes of inspections by the authority and of what it called."""

from django.utils import timezone
from rest_framework import serializers

from api.serializers.fields import DaySerializerField, EnglishField, GivenMoment
from inspections.models import (
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionEvent,
    InspectionKind,
)
from inspections.overview.inspections import inspection_now
from jobs.moments import ANY_DAY, BOOKABLE
from jobs.planning.inspections import Earliest


class EventSerializer(serializers.Serializer[InspectionEvent]):
    """Something that happened to an inspection."""

    happening = serializers.ChoiceField(
        choices=[choice for choice in Happening.choices if choice[0] != Happening.HELD]
    )
    starts_at = GivenMoment(BOOKABLE, required=False, allow_null=True)
    ends_at = GivenMoment(BOOKABLE, required=False, allow_null=True)
    reference = serializers.CharField(required=False, allow_blank=True, max_length=60)
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)


class PastEventSerializer(EventSerializer):
    """One that was recorded, its being held among them."""

    happening = serializers.ChoiceField(choices=Happening.choices)
    recorded_at = serializers.DateTimeField()
    recorded_by = serializers.CharField(source="recorded_by.username")


class InspectionSerializer(serializers.Serializer[Inspection]):
    """An inspection by the authority and what happened to it."""

    id = serializers.UUIDField()
    kind = serializers.ChoiceField(choices=InspectionKind.choices)
    areas = serializers.SerializerMethodField()
    asked_at = serializers.DateTimeField()
    insisted = serializers.BooleanField()
    events = PastEventSerializer(many=True)
    next = serializers.SerializerMethodField()

    def get_next(self, inspection: Inspection) -> list[str]:
        """What can be recorded of it now; `held` stands for its answer."""
        values: list[str] = []
        for each in inspection_now(inspection).may_be(timezone.now()):
            values.append(each.value)
        return values

    def get_areas(self, inspection: Inspection) -> list[str]:
        """The codes of the areas that it is for."""
        codes: list[str] = []
        for area in inspection.areas.all():
            codes.append(area.code)
        return codes


class AskSerializer(serializers.Serializer[None]):
    """An inspection to request. `insist` requests it with items open."""

    kind = serializers.ChoiceField(choices=InspectionKind.choices)
    areas = serializers.ListField(child=serializers.CharField(), required=False)
    insist = serializers.BooleanField(required=False)


class CalledSerializer(serializers.Serializer[None]):
    """A deficiency as the inspector wrote it up."""

    area = serializers.CharField()
    what = serializers.CharField(max_length=500)
    where = serializers.CharField(required=False, allow_blank=True, max_length=200)
    rule = serializers.CharField(required=False, allow_blank=True, max_length=60)
    section = serializers.CharField(required=False, allow_blank=True, max_length=60)
    due_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)


class AnswerSerializer(serializers.Serializer[None]):
    """The inspector's result: one for each area by its code, or one for the job."""

    reference = serializers.CharField(max_length=60)
    answers = serializers.DictField(
        child=serializers.ChoiceField(choices=Answer.choices), required=False
    )
    answer = serializers.ChoiceField(choices=Answer.choices, required=False)
    called = CalledSerializer(many=True, required=False)
    lifted = serializers.ListField(child=serializers.UUIDField(), required=False)


class DeficiencySerializer(serializers.Serializer[Deficiency]):
    """Something that the inspector wrote up."""

    id = serializers.UUIDField()
    area = serializers.CharField(source="area.code")
    what = serializers.CharField()
    where = serializers.CharField()
    section = serializers.CharField()
    due_on = serializers.DateField(allow_null=True)
    corrected_at = serializers.DateTimeField(allow_null=True)
    accepted_at = serializers.DateTimeField(allow_null=True)


class EarliestSerializer(serializers.Serializer[Earliest]):
    """The first window in which an inspection can be, with its working."""

    starts = serializers.DateTimeField()
    ends = serializers.DateTimeField()
    working = serializers.ListField(child=EnglishField())
