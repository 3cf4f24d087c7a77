"""Fields that more than one shape has."""

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers


@extend_schema_field({"type": "string", "pattern": r"^\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?$"})
class LocalTime(serializers.TimeField):
    """A time of day by the clock at the house, such as 08:00:00."""


@extend_schema_field({"type": ["object", "array", "string", "number", "boolean"], "items": {}})
class AnyJson(serializers.JSONField):
    """Any value of JSON; null only where that is said."""
