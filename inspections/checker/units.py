"""Units as codes print them, turned into those used inside, exactly."""

from typing import Any

from config.messages.measures import CUBIC_INCH, INCH, POUND

INSIDE = {
    "in": ("mm", INCH),
    "ft": ("mm", 12 * INCH),
    "m": ("mm", 1000.0),
    "in3": ("mL", CUBIC_INCH),
    "lb": ("kg", POUND),
    "ft2": ("m²", 0.3048**2),
}


def units_into(unit: str) -> list[str]:
    """The units that a value of this one may be given in, itself the first; none without one."""
    if unit:
        names = []
        for name, (to, _) in INSIDE.items():
            if to == unit:
                names.append(name)
        return [unit, *names]
    return []


def to_inner_unit(value: Any, unit: str) -> tuple[Any, str]:
    """The value in the unit used inside, and that unit; a table is turned entry by entry."""
    if unit not in INSIDE:
        return value, unit
    to, factor = INSIDE[unit]
    if isinstance(value, dict):
        by_key = {}
        for key, each in value.items():
            by_key[key] = _turned(each, factor)
        return by_key, to
    return _turned(value, factor), to


def _turned(value: float, factor: float) -> float:
    return round(value * factor, 9)
