"""Shapes of jobs, permits and what brings a job on."""

from typing import Any

from rest_framework import serializers

from api.refusal_messages import EXTENDED_TO, NOT_WITH, REQUIRED_WITH
from api.serializers.areas import AreaSerializer
from api.serializers.fields import AnyJson, DaySerializerField, EnglishField
from config.languages import said_later
from inspections.conclusions.signs import job_age
from inspections.models import (
    INSULATIONS,
    InsulationChoice,
    MilestoneReached,
    RecordEntry,
    TradeReport,
)
from inspections.standing.stages import Milestone
from inspections.standing.steps import NextStep
from jobs.models import Job, Permit
from jobs.moments import ANY_DAY, PAST_DAY


class PermitSerializer(serializers.Serializer[Permit]):
    """The job's permit."""

    number = serializers.CharField()
    applied_on = serializers.DateField()
    issued_on = serializers.DateField(allow_null=True)
    expires_on = serializers.DateField(allow_null=True)


class JobSerializer(serializers.Serializer[Job]):
    """A job with its areas."""

    id = serializers.UUIDField()
    name = serializers.CharField()
    address = serializers.CharField()
    stage = serializers.CharField(source="standing.stage")
    builder = serializers.CharField(source="builder.name")
    authority = serializers.CharField(source="authority.name")
    crew_lead = serializers.CharField(source="crew_lead.username", allow_null=True, default=None)
    time_zone = serializers.CharField()
    drywall_on = serializers.DateField(allow_null=True)
    permit = PermitSerializer(allow_null=True)
    current = serializers.SerializerMethodField()
    checked_at = serializers.DateTimeField(source="standing.drawn_at", allow_null=True)
    areas = AreaSerializer(many=True)

    def get_current(self, job: Job) -> bool:
        """Whether what is shown of it is current; where not, none of its areas is released."""
        return job_age(job).current


class JobOpenSerializer(serializers.Serializer[None]):
    """A job to open. The crew lead is named as they sign in."""

    name = serializers.CharField(max_length=120)
    address = serializers.CharField(max_length=200)
    builder = serializers.UUIDField()
    authority = serializers.UUIDField()
    crew_lead = serializers.CharField(required=False, allow_null=True, max_length=150)
    drywall_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)
    time_zone = serializers.CharField(required=False, max_length=64)


class JobChangeSerializer(JobOpenSerializer):
    """What is to change of a job; what is not given stays."""

    name = serializers.CharField(max_length=120, required=False)
    address = serializers.CharField(max_length=200, required=False)
    builder = serializers.UUIDField(required=False)
    authority = serializers.UUIDField(required=False)


class MoveLineSerializer(serializers.Serializer[NextStep]):
    """One thing that moves a job on."""

    who = serializers.SerializerMethodField()
    what = EnglishField()

    def get_who(self, step: NextStep) -> str:
        """Whose move it is; of several either."""
        return " or ".join(step.who)


class MoveSerializer(serializers.Serializer[dict[str, object]]):
    """Whose move a job is, and what was done out of order."""

    moves = MoveLineSerializer(many=True)
    breaches = serializers.ListField(child=EnglishField())


class PermitChangeSerializer(serializers.Serializer[None]):
    """What happened to a permit, with the facts that go with it."""

    GOES_WITH = {
        "applied": ({"applied_on"}, {"holder", "scope"}),
        "issued": ({"number", "issued_on"}, {"expires_on"}),
        "extended": ({"expires_on"}, {"reference"}),
        "corrected": ({"expires_on", "because"}, set()),
        "amended": ({"scope"}, set()),
        "closed": ({"closed_on"}, set()),
    }
    """For each happening, what must be given and what may be."""

    what = serializers.ChoiceField(choices=[(each, each) for each in GOES_WITH])
    applied_on = DaySerializerField(PAST_DAY, required=False)
    holder = serializers.CharField(required=False, allow_blank=True, max_length=120)
    scope = serializers.CharField(required=False, allow_blank=True, max_length=500)
    number = serializers.CharField(required=False, max_length=60)
    issued_on = DaySerializerField(PAST_DAY, required=False)
    expires_on = DaySerializerField(
        ANY_DAY,
        required=False,
        allow_null=True,
        help_text="With `corrected`, null: the permit does not expire.",
    )
    closed_on = DaySerializerField(PAST_DAY, required=False)
    reference = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=60,
        help_text="The authority's for the extension; kept in the job's record.",
    )
    because = serializers.CharField(
        required=False,
        max_length=200,
        help_text="Why the day to which it is good is corrected; kept in the job's record.",
    )

    def validate(self, given: dict[str, Any]) -> dict[str, Any]:
        """Refuse what does not go with the happening, and name what is missing."""
        must, may = self.GOES_WITH[given["what"]]
        faults = {}
        for name in must - set(given):
            faults[name] = [said_later(REQUIRED_WITH(what=given["what"]))]
        if given["what"] == "extended" and given.get("expires_on", ...) is None:
            faults["expires_on"] = [said_later(EXTENDED_TO())]
        strange = set(given) - must - may - {"what"}
        for name in strange:
            faults[name] = [said_later(NOT_WITH(what=given["what"]))]
        if faults:
            raise serializers.ValidationError(faults)
        return given


class LiveSerializer(serializers.Serializer[dict[str, str]]):
    """A circuit that may be live."""

    id = serializers.CharField()
    panel = serializers.CharField()
    number = serializers.CharField()
    name = serializers.CharField()


class MilestoneSerializer(serializers.Serializer[MilestoneReached]):
    """What was reported done for a whole job."""

    milestone = serializers.ChoiceField(choices=[(each.value, each.value) for each in Milestone])
    reached_on = DaySerializerField(PAST_DAY)
    reference = serializers.CharField(required=False, allow_blank=True, max_length=60)
    circuits = serializers.ListField(
        child=serializers.CharField(max_length=60),
        required=False,
        help_text="The hookup: ids of circuits of the latest house that may be live.",
    )
    live = LiveSerializer(
        many=True,
        read_only=True,
        allow_null=True,
        help_text="The same as the house had them then; null on an older record, whose `circuits` "
        "are whatever was typed.",
    )
    temporary_until = DaySerializerField(ANY_DAY, required=False, allow_null=True)
    insist = serializers.BooleanField(
        required=False,
        default=False,
        write_only=True,
        help_text="Record it although something that must come first is not on record; without "
        "it that is refused with 409, and the answer names each.",
    )


class TradeSerializer(serializers.Serializer[TradeReport]):
    """Another trade's word: of the whole job, or of a layer over an area by its code."""

    trade = serializers.CharField(max_length=40)
    done = serializers.BooleanField(required=False, default=True)
    area = serializers.CharField(
        source="area.code", required=False, allow_null=True, max_length=40, default=None
    )
    recorded_at = serializers.DateTimeField(read_only=True)


class InsulationSerializer(serializers.Serializer[InsulationChoice]):
    """What fills the outside walls, and whether it is itself the vapour barrier."""

    kind = serializers.ChoiceField(choices=INSULATIONS)
    vapour_barrier = serializers.BooleanField()
    recorded_by = serializers.CharField(source="recorded_by.username", read_only=True)
    recorded_at = serializers.DateTimeField(read_only=True)


class RecordSerializer(serializers.Serializer[RecordEntry]):
    """One entry of a job's record."""

    number = serializers.IntegerField()
    at = serializers.DateTimeField()
    by = serializers.CharField(source="by.username")
    origin = serializers.CharField()
    action = serializers.CharField()
    detail = AnyJson()
    before = AnyJson()
