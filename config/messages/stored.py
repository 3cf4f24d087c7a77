"""Values of messages as JSON, for rows and for programs, and back. Pure.

{"id": "box-fill.short", "with": {"fill": {"ml": 172.2}}} is a text; quantities are objects with
their unit as the name.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from .values import (
    Amperes,
    FloorSize,
    Joined,
    Length,
    Listed,
    Ohms,
    Percent,
    Ratio,
    Rounding,
    Text,
    Value,
    VoltAmperes,
    Volume,
    Weight,
)

QUANTITIES: dict[str, type[Any]] = {
    "mm": Length,
    "ml": Volume,
    "kg": Weight,
    "m2": FloorSize,
    "a": Amperes,
    "va": VoltAmperes,
    "ohm": Ohms,
    "percent": Percent,
    "times": Ratio,
}
"""Each quantity by the name of its unit, which is the name of its field."""
_UNITS = {kind: unit for unit, kind in QUANTITIES.items()}


def to_json(value: Value) -> Any:
    """A value as JSON. Raises TypeError for what no message carries."""
    match value:
        case Text():
            stored: dict[str, Any] = {"id": value.id}
            if value.given:
                stored["with"] = {name: to_json(each) for name, each in value.given.items()}
            if value.code_units:
                stored["units"] = value.code_units
            return stored
        case Listed():
            return {"list": [to_json(each) for each in value.of], "by": value.by}
        case Joined():
            return {"join": [to_json(each) for each in value.of], "between": value.between}
        case datetime():
            return {"moment": value.isoformat()}
        case date():
            return {"day": value.isoformat()}
        case str() | int() | float():
            return value
        case _:
            return _quantity_json(value)


def _quantity_json(value: Any) -> dict[str, Any]:
    unit = _UNITS.get(type(value))
    if unit is None:
        raise TypeError(f"{value!r} fills no hole of a message")
    stored = {unit: getattr(value, unit)}
    rounding = getattr(value, "rounding", Rounding.NEAREST)
    if rounding is not Rounding.NEAREST:
        stored["rounding"] = rounding.value
    return stored


def from_json(stored: Any) -> Value:
    """The value that was stored. Raises ValueError for JSON that is none."""
    if isinstance(stored, str | int | float):
        return stored
    if isinstance(stored, Mapping):
        for name, read in READ.items():
            if name in stored:
                return read(stored)
    raise ValueError(f"{stored!r} is no value of a message")


def _text(stored: Mapping[str, Any]) -> Text:
    given = {name: from_json(each) for name, each in stored.get("with", {}).items()}
    return Text(stored["id"], given, stored.get("units", ""))


def _quantity(unit: str) -> Callable[[Mapping[str, Any]], Value]:
    def read(stored: Mapping[str, Any]) -> Value:
        kind = QUANTITIES[unit]
        made: Value = kind(stored[unit])
        if "rounding" in stored:
            made = kind(stored[unit], Rounding(stored["rounding"]))
        return made

    return read


def _several(stored: Sequence[Any]) -> tuple[Value, ...]:
    return tuple(from_json(each) for each in stored)


READ: dict[str, Callable[[Mapping[str, Any]], Value]] = {
    "id": _text,
    "list": lambda stored: Listed(_several(stored["list"]), stored["by"]),
    "join": lambda stored: Joined(_several(stored["join"]), stored["between"]),
    "moment": lambda stored: datetime.fromisoformat(stored["moment"]),
    "day": lambda stored: date.fromisoformat(stored["day"]),
    **{unit: _quantity(unit) for unit in QUANTITIES},
}
"""How each kind of stored object is read, by a name that only it has."""


def is_stored_text(stored: Any) -> bool:
    """Whether this is a stored message, list or quantity."""
    return isinstance(stored, Mapping) and any(name in stored for name in READ)
