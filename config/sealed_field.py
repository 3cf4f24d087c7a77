"""A column whose text is sealed on its way into the database, and opened where it is read."""

from typing import Any, TypeVar

from django.core.exceptions import FieldError
from django.db import models
from django.db.models.query_utils import DeferredAttribute

from config.generics import TextField
from config.sealing import is_sealed, seal, unseal


class Sealed:
    """A value as the database holds it, not opened yet: a key that is missing is no fault of the
    row's other columns."""

    __slots__ = ("of", "text")

    def __init__(self, text: str, of: str) -> None:
        self.text, self.of = text, of

    def opened(self) -> str:
        """What was sealed. Raises SealFault."""
        return unseal(self.text, of=self.of)

    def __repr__(self) -> str:
        return f"<sealed {self.of}>"


class _Opening(DeferredAttribute):
    """The attribute of a row: opened each time, so that a row carries no secret about."""

    def __get__(self, instance: Any, cls: Any = None) -> Any:
        value = super().__get__(instance, cls)
        if isinstance(value, Sealed):
            return value.opened()
        return value

    def __set__(self, instance: Any, value: Any) -> None:
        instance.__dict__[self.field.attname] = value


Given = TypeVar("Given", contravariant=True)
Read = TypeVar("Read", covariant=True)


class SealedField(TextField[Given, Read]):
    """Text that nobody who has the database alone can read. Empty stays empty.

    It is sealed for its table and column. It cannot be looked up: keep a digest beside it for that.
    Where it goes into a backup it goes sealed.
    """

    descriptor_class = _Opening

    @property
    def of(self) -> str:
        """What its values are sealed for."""
        return f"{self.model._meta.db_table}.{self.column}"

    def from_db_value(self, value: Any, _expression: object, _connection: object) -> Any:
        """What is in clear yet, written by the version before, is read as it is."""
        if value and is_sealed(value):
            return Sealed(value, self.of)
        return value

    def to_python(self, value: Any) -> Any:
        """Of a backup comes what was sealed, as `{"sealed": …}`, which no form takes."""
        if isinstance(value, dict) and set(value) == {"sealed"}:
            return Sealed(value["sealed"], self.of)
        if isinstance(value, Sealed):
            return value
        return super().to_python(value)

    def get_prep_value(self, value: Any) -> Any:
        """Sealed as it was, or anew."""
        if isinstance(value, Sealed):
            return value.text
        text = super().get_prep_value(value)
        if text:
            return seal(text, of=self.of)
        return text

    def pre_save(self, model_instance: models.Model, add: bool) -> Any:  # noqa: ARG002, its name
        """What was not opened is written back as it was."""
        return model_instance.__dict__.get(self.attname)

    def value_to_string(self, obj: models.Model) -> Any:
        """For a backup: sealed."""
        value = obj.__dict__.get(self.attname)
        if value:
            return {"sealed": self.get_prep_value(value)}
        return value

    def get_lookup(self, lookup_name: str) -> Any:
        """Two seals of one text differ: a comparison would never find anything."""
        if lookup_name != "isnull":
            raise FieldError(f"{self.of} is sealed; look it up by a digest beside it")
        return super().get_lookup(lookup_name)

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        """To migrations it is text: they see what the database holds, and seal by themselves."""
        name, _path, args, options = super().deconstruct()
        return name, "django.db.models.TextField", list(args), options
