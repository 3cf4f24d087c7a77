"""Fields that more than one shape has."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from django.utils import timezone
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.serializers import BaseSerializer

from config.languages import said_later, say
from config.messages.lengths import LONGEST_MM
from config.messages.stored import is_stored_text
from inspections.checker.keeping.stored_finding import said_finding
from jobs.moments import Days, Moments

Told = TypeVar("Told")


def told_each(
    found: Iterable[Told], serializer: type[BaseSerializer[Told]]
) -> list[dict[str, Any]]:
    """Each of several things in its shape."""
    told = serializers.ListSerializer(found, child=serializer())
    return list(told.data)


class EnglishField(serializers.CharField):
    """What the program says; to programs in English."""

    def to_representation(self, value: object) -> str:
        """A message, as it is or as it is kept, or a sentence of before."""
        return say(value, "en")


@extend_schema_field({"type": "string", "pattern": r"^\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?$"})
class LocalTime(serializers.TimeField):
    """A time of day by the clock at the house, such as 08:00:00."""


@extend_schema_field({"type": ["object", "array", "string", "number", "boolean"], "items": {}})
class AnyJson(serializers.JSONField):
    """Any value of JSON; null only where that is said."""


@extend_schema_field({"type": ["object", "array", "string", "number", "boolean"], "items": {}})
class SaidJson(serializers.JSONField):
    """JSON in which messages are kept by their id; whoever asks reads them in his language."""

    def to_representation(self, value: Any) -> Any:
        """The same with every message said."""
        return _said(value)


def _said(value: Any) -> Any:
    if is_stored_text(value):
        return say(value)
    if isinstance(value, dict):
        return {name: _said(each) for name, each in value.items()}
    if isinstance(value, list):
        return [_said(each) for each in value]
    return value


@extend_schema_field({"$ref": "#/components/schemas/Finding"})
class FindingField(SaidJson):
    """A finding with the facts that its rule declares, and its messages said."""

    def to_representation(self, value: Any) -> Any:
        """The finding as its schema has it."""
        return said_finding(value, say)


class MeasureField(serializers.FloatField):
    """A length in mm that a tape may show."""

    def __init__(self, max_value: float = LONGEST_MM, **given: Any) -> None:
        super().__init__(min_value=0, max_value=max_value, **given)


class DaySerializerField(serializers.DateField):
    """A day that a caller gives, of a kind; the service asks again by the clock at the house."""

    def __init__(self, kind: Days, **options: Any) -> None:
        self.kind = kind
        super().__init__(**options)

    def to_internal_value(self, value: Any) -> date:
        """The day, or a fault that tells the range."""
        day = super().to_internal_value(value)
        if fault := self.kind.fault(day, timezone.now()):
            raise serializers.ValidationError(said_later(fault))
        return day


class GivenMoment(serializers.DateTimeField):
    """A moment that a caller gives, of a kind."""

    def __init__(self, kind: Moments, **options: Any) -> None:
        self.kind = kind
        super().__init__(**options)

    def to_internal_value(self, value: Any) -> datetime:
        """The moment, or a fault that tells the range."""
        now = timezone.now()
        try:
            moment = super().to_internal_value(value)
        except serializers.ValidationError as refusal:
            if refusal.get_codes() != ["overflow"]:
                raise
            asked = self.kind.asks(now, ZoneInfo("UTC"))
            raise serializers.ValidationError(said_later(asked)) from None
        if fault := self.kind.fault(moment, now):
            raise serializers.ValidationError(said_later(fault))
        return moment
