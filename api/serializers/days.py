"""Shapes of plans, crews' days, work reports, and of what a plan rests on."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.serializers.fields import AnyJson, DaySerializerField, EnglishField, SaidJson, told_each
from inspections.days.selectors import DayOf, plan_work
from jobs.models import (
    Absence,
    Crew,
    OwnTask,
    Plan,
    PlannedWork,
    PromisedDate,
    Site,
    Skill,
    WorkReport,
)
from jobs.moments import ANY_DAY


class AskPlanSerializer(serializers.Serializer[None]):
    """A plan to ask for; tomorrow unless a day is given."""

    first_day = DaySerializerField(ANY_DAY, required=False, allow_null=True)


class PlannedWorkSerializer(serializers.Serializer[PlannedWork]):
    """One task or inspection of a plan."""

    job = serializers.UUIDField(source="job_id")
    task = serializers.CharField()
    name = EnglishField()
    area = serializers.CharField(source="area.code", allow_null=True, default=None)
    crew = serializers.UUIDField(source="crew_id", allow_null=True)
    minutes = serializers.IntegerField()
    starts_on = serializers.DateField()
    start_part = serializers.IntegerField()
    ends_on = serializers.DateField()
    end_part = serializers.IntegerField()


class PlanSerializer(serializers.Serializer[Plan]):
    """A plan: where its working out stands, what is late and why."""

    id = serializers.UUIDField()
    state = serializers.ChoiceField(choices=Plan.State.choices)
    first_day = serializers.DateField()
    asked_at = serializers.DateTimeField()
    made_at = serializers.DateTimeField(allow_null=True)
    told_at = serializers.DateTimeField(allow_null=True)
    faults = serializers.ListField(child=EnglishField())
    levels = AnyJson()
    late = SaidJson()
    left = serializers.ListField(child=EnglishField())
    cut_short = serializers.BooleanField()


class WholePlanSerializer(PlanSerializer):
    """A plan with all its work."""

    work = serializers.SerializerMethodField()

    @extend_schema_field(PlannedWorkSerializer(many=True))
    def get_work(self, plan: Plan) -> list[dict[str, Any]]:
        """Everything that it places, the earliest first."""
        return told_each(plan_work(plan), PlannedWorkSerializer)


class CrewSerializer(serializers.Serializer[Crew]):
    """A crew."""

    id = serializers.UUIDField()
    name = serializers.CharField()
    lead = serializers.CharField(source="lead.username", allow_null=True, default=None)


class DaySerializer(serializers.Serializer[DayOf]):
    """A crew's list for a day, as it is now and as it was last sent."""

    content = SaidJson(allow_null=True)
    number = serializers.IntegerField(source="sent.number", allow_null=True, default=None)
    sent_at = serializers.DateTimeField(source="sent.sent_at", allow_null=True, default=None)
    unsent = serializers.ListField(child=EnglishField())


class AbsenceSerializer(serializers.Serializer[Absence]):
    """Days on which a person does not work."""

    id = serializers.UUIDField(read_only=True)
    person = serializers.CharField(source="person.username")
    from_day = DaySerializerField(ANY_DAY)
    to_day = DaySerializerField(ANY_DAY)
    why = serializers.CharField(required=False, allow_blank=True, max_length=120)


class WorkReportSerializer(serializers.Serializer[WorkReport]):
    """A crew's word that a task is done, or is not."""

    task = serializers.CharField(max_length=80)
    done = serializers.BooleanField(required=False, default=True)


class CrewChangeSerializer(serializers.Serializer[Crew]):
    """What is to change of a crew; what is not given stays."""

    name = serializers.CharField(max_length=60, required=False)
    lead = serializers.CharField(required=False, allow_null=True)
    stood_down_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)


class PlaceSerializer(serializers.Serializer[Site]):
    """Where a house stands, in degrees (WGS 84)."""

    latitude = serializers.FloatField(min_value=-90, max_value=90)
    longitude = serializers.FloatField(min_value=-180, max_value=180)


class PromiseSerializer(serializers.Serializer[PromisedDate]):
    """A day that was promised to the builder."""

    promised = serializers.ChoiceField(source="what", choices=PromisedDate.What.choices)
    on = DaySerializerField(ANY_DAY)
    weight = serializers.IntegerField(min_value=0, max_value=1000, required=False)


class OwnTaskSerializer(serializers.Serializer[OwnTask]):
    """Work that the office adds to a job by hand, in person-minutes."""

    id = serializers.UUIDField(read_only=True)
    name = serializers.CharField(max_length=120)
    minutes = serializers.IntegerField(min_value=1, max_value=60_000)
    area = serializers.CharField(source="area.code", required=False, allow_null=True)
    skill = serializers.ChoiceField(choices=Skill.choices, required=False, allow_blank=True)
    not_before = DaySerializerField(ANY_DAY, required=False, allow_null=True)
    due_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)
