"""What goes in and out of corrections: facts of a house, and what they were."""

from typing import Any

from rest_framework import serializers

from api.serializers.fields import AnyJson, GivenMoment
from config.languages import say
from inspections.models import FactCorrection
from inspections.services import fact_refusal_messages as words
from jobs.moments import PHONE_CLOCK

FARTHEST = 2**31 - 1


class CorrectedFactSerializer(serializers.Serializer[dict[str, Any]]):
    """One fact: where it is in the house file, what it was and what it is.

    A step of `path` is a field, the id of a part, or a number in a list from 0 on. A part without
    an id goes by what it joins: `D1 C24 living`.
    """

    path = serializers.ListField(child=AnyJson(), min_length=2, max_length=8)
    was = AnyJson(allow_null=True)
    now = AnyJson(allow_null=True)
    typed = serializers.CharField(required=False, allow_blank=True, max_length=40)

    def validate_path(self, path: list[Any]) -> list[Any]:
        """Names and numbers alone."""
        for step in path:
            if not isinstance(step, str | int) or isinstance(step, bool):
                raise serializers.ValidationError(say(words.NOT_HERE()))
        return path


class FactCorrectionSerializer(serializers.Serializer[FactCorrection]):
    """Facts corrected on site, as one revision; `id` is its maker's own.

    With `undoes` it puts back what another changed, and says no `changes` of its own.
    """

    id = serializers.UUIDField()
    base = serializers.IntegerField(required=False, min_value=0, max_value=FARTHEST)
    changes: serializers.ListSerializer[list[dict[str, Any]]] = serializers.ListSerializer(
        child=CorrectedFactSerializer(), max_length=200, required=False
    )
    undoes = serializers.UUIDField(required=False, allow_null=True, source="undoes_id")
    note = serializers.CharField(required=False, allow_blank=True, max_length=500)
    made_at = GivenMoment(PHONE_CLOCK, required=False)
    withdraws = serializers.BooleanField(
        required=False,
        write_only=True,
        help_text="Whether a cover release may be withdrawn; 409 says of what otherwise.",
    )
    revision = serializers.IntegerField(read_only=True)
    made_by = serializers.CharField(read_only=True, source="made_by.username")
    recorded_at = serializers.DateTimeField(read_only=True)
