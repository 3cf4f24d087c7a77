"""Columns that are bounded: whatever a row holds, what is read of it can be reckoned with."""

from typing import Any, TypeVar

from django.core.validators import MaxValueValidator
from django.db.models import JSONField

from config.generics import (
    DateField,
    DateTimeField,
    PositiveIntegerField,
    PositiveSmallIntegerField,
)
from jobs.bounds import within_bounds

Given = TypeVar("Given", contravariant=True)
Read = TypeVar("Read", covariant=True)
"""What a field takes, and what it is read as; a column that may be empty, None besides."""


class _Bounded:
    """Reads a value within the bounds of `jobs.moments`; writes what it is given."""

    extends: str

    def from_db_value(self, value: Any, _expression: object, _connection: object) -> Any:
        """Year 1 and year 9999 overflow at the first time zone, sum or page that meets them."""
        if value is None:
            return value
        return within_bounds(value)

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        """To migrations it is the field that it extends: no column differs for it."""
        # The field is beside this class, never above it.
        name, _path, args, options = super().deconstruct()  # type: ignore[misc]
        return name, f"django.db.models.{self.extends}", args, options


class MomentField(_Bounded, DateTimeField[Given, Read]):
    """A moment."""

    extends = "DateTimeField"


class DayField(_Bounded, DateField[Given, Read]):
    """A day."""

    extends = "DateField"


class _Counted:
    """A number with a highest that makes sense; the database may take far more, or wrap round."""

    extends: str

    def __init__(self, *args: Any, most: int, **options: Any) -> None:
        self.most = most
        super().__init__(*args, **options)

    @property
    def validators(self) -> list[Any]:
        """Whoever gives more is told the highest."""
        # The field is beside this class, never above it.
        return [*super().validators, MaxValueValidator(self.most)]  # type: ignore[misc]

    def from_db_value(self, value: Any, _expression: object, _connection: object) -> Any:
        """One that was kept before there was a highest is read as that."""
        if value is None:
            return value
        return min(value, self.most)

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        """To migrations it is the field that it extends: no column differs for it."""
        # The field is beside this class, never above it.
        name, _path, args, options = super().deconstruct()  # type: ignore[misc]
        return name, f"django.db.models.{self.extends}", args, options

    def clone(self) -> Any:
        """Another like it, with its highest."""
        _name, _path, args, options = self.deconstruct()
        return type(self)(*args, **options, most=self.most)


class CountField(_Counted, PositiveSmallIntegerField[Given, Read]):
    """How many of something, up to `most`."""

    extends = "PositiveSmallIntegerField"


class LongCountField(_Counted, PositiveIntegerField[Given, Read]):
    """How many of something of which there may be more than 32,767, up to `most`."""

    extends = "PositiveIntegerField"


class SentListField(JSONField):
    """A crew's list for a day, kept as it was sent, under the names that its parts had then.

    It is read by today's names, here and nowhere else: what was sent is not written anew.
    """

    def from_db_value(self, value: Any, expression: Any, connection: Any) -> Any:
        """The list by today's names."""
        return _by_todays_names(super().from_db_value(value, expression, connection))

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        """To migrations it is the field that it extends: no column differs for it."""
        name, _path, args, options = super().deconstruct()
        return name, "django.db.models.JSONField", [*args], options


def _by_todays_names(content: dict[str, Any]) -> dict[str, Any]:
    """What was sent as to be mended is to be corrected."""
    for house in content["houses"]:
        if "mend" in house:
            house["corrections"] = house.pop("mend")
        for work in house["work"]:
            if work["kind"] == "mend":
                work["kind"] = "correction"
                work["task"] = work["task"].replace("mend/", "correction/", 1)
    return content
