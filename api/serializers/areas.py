"""Shapes of areas, their holds, cover releases and links."""

from typing import Any

from rest_framework import serializers

from api.refusal_messages import NOT_WITH, REQUIRED_WITH
from api.serializers.fields import EnglishField
from config.languages import said_later, say
from inspections.conclusions.signs import area_sign, job_age
from inspections.models import Acceptance, CoverRelease, Link, WithdrawalAnswer
from inspections.overview.timeline import Happened
from inspections.standing.age import Sign
from inspections.standing.steps import read_lifts, step_words, steps_of
from jobs.models import Area


class HoldSerializer(serializers.Serializer[dict[str, Any]]):
    """One reason why an area may not be covered."""

    reason = serializers.CharField()
    says = EnglishField()
    lifted_by = serializers.SerializerMethodField()

    def get_lifted_by(self, hold: dict[str, Any]) -> str:
        """Who lifts it, and how; several ways with "or" between them."""
        lines = []
        for step in steps_of(read_lifts(hold["lifted_by"])):
            lines.append(say(step_words(step), "en"))
        return ", or ".join(lines)


class AreaSerializer(serializers.Serializer[Area]):
    """An area of a job, hold or clear.

    `current` is false where the clock may have changed what is shown and nobody has checked it
    since `checked_at`; then nothing is released.
    """

    id = serializers.UUIDField()
    code = serializers.CharField()
    name = serializers.CharField()
    released = serializers.SerializerMethodField()
    current = serializers.SerializerMethodField()
    checked_at = serializers.DateTimeField(source="job.standing.drawn_at", allow_null=True)
    holds = HoldSerializer(source="standing.holds", many=True)

    def get_released(self, area: Area) -> bool:
        """Whether it may be covered."""
        return area_sign(area) is Sign.CLEAR

    def get_current(self, area: Area) -> bool:
        """Whether what is shown of it is current."""
        return job_age(area.job).current


class WithdrawalAnswerSerializer(serializers.Serializer[WithdrawalAnswer]):
    """What was done about the reason of a withdrawal. With `inspect_again` the area is held until
    the authority accepts it anew."""

    says = serializers.CharField(max_length=500)
    inspect_again = serializers.BooleanField()
    recorded_by = serializers.CharField(source="recorded_by.username", read_only=True)
    recorded_at = serializers.DateTimeField(read_only=True)


class AcceptanceSerializer(serializers.Serializer[Acceptance]):
    """The authority's acceptance of an area without an inspection."""

    BASES = (Acceptance.Basis.WAIVER, Acceptance.Basis.ELAPSED)
    WITH_ELAPSED = frozenset({"inspection", "declared_by"})

    id = serializers.UUIDField(read_only=True)
    basis = serializers.ChoiceField(choices=[(each.value, each.label) for each in BASES])
    reference = serializers.CharField(max_length=60)
    inspection = serializers.UUIDField(
        required=False, write_only=True, help_text="With `elapsed`: to which nobody came."
    )
    declared_by = serializers.CharField(
        required=False,
        max_length=120,
        help_text="With `elapsed`: the licence holder who signed the declaration.",
    )
    recorded_at = serializers.DateTimeField(read_only=True)

    def validate(self, given: dict[str, Any]) -> dict[str, Any]:
        """Refuse what does not go with the basis, and name what is missing."""
        basis = given["basis"]
        if basis == Acceptance.Basis.ELAPSED:
            wrong, fault = self.WITH_ELAPSED - set(given), REQUIRED_WITH
        else:
            wrong, fault = self.WITH_ELAPSED & set(given), NOT_WITH
        if wrong:
            says = said_later(fault(what=basis))
            raise serializers.ValidationError({name: [says] for name in sorted(wrong)})
        return given


class CoverReleaseSerializer(serializers.Serializer[CoverRelease]):
    """The record that an area may be covered."""

    id = serializers.UUIDField(read_only=True)
    basis = serializers.CharField(read_only=True, source="acceptance.basis")
    reference = serializers.CharField(read_only=True)
    issued_at = serializers.DateTimeField(read_only=True)
    withdrawn_at = serializers.DateTimeField(read_only=True, allow_null=True)
    withdrawn_because = serializers.CharField(read_only=True)
    withdrawn_by = serializers.CharField(
        read_only=True, source="withdrawn_by.username", allow_null=True, default=None
    )
    answer = WithdrawalAnswerSerializer(read_only=True, allow_null=True)
    current = serializers.SerializerMethodField()
    checked_at = serializers.DateTimeField(
        read_only=True, source="area.job.standing.drawn_at", allow_null=True
    )

    def get_current(self, cover_release: CoverRelease) -> bool:
        """Whether the area may be covered on it now."""
        return cover_release.live and area_sign(cover_release.area) is Sign.CLEAR


class ReasonSerializer(serializers.Serializer[None]):
    """Why something is taken back."""

    because = serializers.CharField(max_length=500)


class HappenedSerializer(serializers.Serializer[Happened]):
    """One thing that happened in an area."""

    at = serializers.DateTimeField()
    what = EnglishField()
    by = EnglishField()
    weighty = serializers.BooleanField()


class LinkSerializer(serializers.Serializer[Link]):
    """A link by which somebody follows a job's cover without an account."""

    id = serializers.UUIDField(read_only=True)
    for_whom = serializers.CharField(max_length=120)
    made_at = serializers.DateTimeField(read_only=True)
    expires_at = serializers.DateTimeField(read_only=True, allow_null=True)
    withdrawn_at = serializers.DateTimeField(read_only=True, allow_null=True)
    acknowledged_at = serializers.DateTimeField(read_only=True, allow_null=True)


class LinkMadeSerializer(LinkSerializer):
    """One that was just made, with its secret."""

    days = serializers.IntegerField(write_only=True, required=False, min_value=1, max_value=400)
    secret = serializers.CharField(read_only=True)
