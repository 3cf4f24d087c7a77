"""Fields that more than one shape has."""

import math
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from inspections.checker.measures import LONGEST_MM


@extend_schema_field({"type": "string", "pattern": r"^\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?$"})
class LocalTime(serializers.TimeField):
    """A time of day by the clock at the house, such as 08:00:00."""


@extend_schema_field({"type": ["object", "array", "string", "number", "boolean"], "items": {}})
class AnyJson(serializers.JSONField):
    """Any value of JSON; null only where that is said."""


class FiniteField(serializers.FloatField):
    """A number; NaN and infinity, which no bound stops for certain, are none."""

    def to_internal_value(self, data: Any) -> float:
        """The number, or a ValidationError."""
        try:
            value = super().to_internal_value(data)
        except OverflowError:  # an integer of hundreds of digits
            value = math.inf
        if not math.isfinite(value):
            self.fail("invalid")
        return value


class MeasureField(FiniteField):
    """A length in mm that a tape may show."""

    def __init__(self, max_value: float = LONGEST_MM, **given: Any) -> None:
        super().__init__(min_value=0, max_value=max_value, **given)
