"""Values of messages as JSON, for rows and for programs, and back. Pure.

{"id": "box-fill.short", "with": {"fill": {"ml": 172.2}}} is a text; quantities are objects with
their unit as the name.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, time
from typing import Any

from .message import (
    Amperes,
    CableRun,
    FloorSize,
    Joined,
    Length,
    Listed,
    Mass,
    Ohms,
    Percent,
    Ratio,
    Rounding,
    Text,
    Value,
    VoltAmperes,
    Volume,
    WeekDay,
)

QUANTITIES: dict[str, type[Any]] = {
    "mm": Length,
    "m": CableRun,
    "ml": Volume,
    "kg": Mass,
    "m2": FloorSize,
    "a": Amperes,
    "va": VoltAmperes,
    "ohm": Ohms,
    "percent": Percent,
    "times": Ratio,
}
"""Each quantity by the name of its unit, which is the name of its field."""
_UNITS = dict(zip(QUANTITIES.values(), QUANTITIES, strict=True))


def to_json(value: Value) -> Any:
    """A value as JSON. Raises TypeError for what no message carries."""
    match value:
        case Text():
            stored: dict[str, Any] = {"id": value.id}
            if value.given:
                stored["with"] = dict(zip(value.given, _jsons(value.given.values()), strict=True))
            if value.code_units:
                stored["units"] = value.code_units
            return stored
        case Listed():
            return {"list": _jsons(value.of), "by": value.by}
        case Joined():
            return {"join": _jsons(value.of), "between": value.between}
        case datetime() | date() | time() | WeekDay():
            return _when_json(value)
        case str() | int() | float():
            return value
        case _:
            return _quantity_json(value)


def _jsons(values: Iterable[Value]) -> list[Any]:
    """Each of several values as JSON."""
    stored = []
    for each in values:
        stored.append(to_json(each))
    return stored


def _when_json(value: datetime | date | time | WeekDay) -> dict[str, str]:
    match value:
        case datetime():
            return {"moment": value.isoformat()}
        case date():
            return {"day": value.isoformat()}
        case time():
            return {"clock": value.isoformat()}
        case WeekDay():
            return {"weekday": value.day.isoformat()}


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


Stored = Mapping[str, Any]


def _text(stored: Stored) -> Text:
    given = stored.get("with", {})
    values = dict(zip(given, _several(given.values()), strict=True))
    return Text(stored["id"], values, stored.get("units", ""))


def _quantity(unit: str) -> Callable[[Stored], Value]:
    def read(stored: Stored) -> Value:
        kind = QUANTITIES[unit]
        made: Value = kind(stored[unit])
        if "rounding" in stored:
            made = kind(stored[unit], Rounding(stored["rounding"]))
        return made

    return read


def _several(stored: Iterable[Any]) -> tuple[Value, ...]:
    values = []
    for each in stored:
        values.append(from_json(each))
    return tuple(values)


def _list(stored: Stored) -> Listed:
    return Listed(_several(stored["list"]), stored["by"])


def _join(stored: Stored) -> Joined:
    return Joined(_several(stored["join"]), stored["between"])


def _moment(stored: Stored) -> datetime:
    return datetime.fromisoformat(stored["moment"])


def _day(stored: Stored) -> date:
    return date.fromisoformat(stored["day"])


def _clock(stored: Stored) -> time:
    return time.fromisoformat(stored["clock"])


def _weekday(stored: Stored) -> WeekDay:
    return WeekDay(date.fromisoformat(stored["weekday"]))


READ: dict[str, Callable[[Stored], Value]] = {
    "id": _text,
    "list": _list,
    "join": _join,
    "moment": _moment,
    "day": _day,
    "clock": _clock,
    "weekday": _weekday,
}
for _unit in QUANTITIES:
    READ[_unit] = _quantity(_unit)
# How each kind of stored object is read, by a name that only it has.


NAMES = frozenset({*READ, "with", "units", "by", "between", "rounding"})
"""Every name in a stored object. One with another name, a list of a day for instance, is none."""


def is_stored_text(stored: Any) -> bool:
    """Whether this is a stored message, list or quantity."""
    if not isinstance(stored, Mapping):
        return False
    return any(name in READ for name in stored) and all(name in NAMES for name in stored)
