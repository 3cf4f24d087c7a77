"""Columns for moments and days: whatever a row holds, what is read of it can be reckoned with."""

from typing import Any

from django.db import models

from jobs.moments import within_bounds


class _Bounded:
    """Reads a value within the bounds of `jobs.moments`; writes what it is given."""

    def from_db_value(self, value: Any, _expression: object, _connection: object) -> Any:
        """Year 1 and year 9999 overflow at the first time zone, sum or page that meets them."""
        return value if value is None else within_bounds(value)

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        """To migrations it is the field that it extends: no column differs for it."""
        name, _path, args, options = super().deconstruct()  # type: ignore[misc]
        return name, f"django.db.models.{self.extends}", args, options  # type: ignore[attr-defined]


class MomentField(_Bounded, models.DateTimeField):
    """A moment."""

    extends = "DateTimeField"


class DayField(_Bounded, models.DateField):
    """A day."""

    extends = "DateField"
