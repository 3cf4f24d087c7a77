"""Single cells: from what a person wrote to a value, and back. Lengths and sizes in any unit."""

import re
from collections.abc import Callable
from fractions import Fraction
from math import pi
from typing import Any

from .columns import Column, Kind

Cell = str | float | int | bool | None
MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
INCH, FOOT = Fraction("25.4"), Fraction("304.8")
NUMBER = r"\d+(?:\.\d+)?"
METRIC = re.compile(rf"(-?{NUMBER})\s*(mm|cm|m)")
IMPERIAL = re.compile(
    rf"(-)?(?:({NUMBER})\s*(?:'|′|ft|feet|foot))?\s*-?\s*"
    rf"(?:(?:({NUMBER}))?(?:[ -]*(\d+)\s*/\s*(\d+))?\s*(?:\"|″|''|in\.?|inch|inches))?"
)
MM2 = re.compile(rf"({NUMBER})\s*(?:mm2|mm²)")
MM2_OFF = 0.02
"""A cross-section within this share of a size's own is that size."""
YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
ESCAPED = re.compile("[\x00-\x08\x0b-\x1f\ufffe\uffff\ud800-\udfff]|_x[0-9A-Fa-f]{4}_")
CODED = re.compile("_x([0-9A-Fa-f]{4})_")


class Wrong(ValueError):
    """A cell that cannot be read; the text says what to write instead."""


def parsed(cell: Cell, column: Column) -> Any:
    """The value of a cell; None when it is empty. Raises Wrong."""
    if isinstance(cell, str):
        cell = unescaped(cell).strip() if column.kind is not Kind.TEXT else unescaped(cell)
    if cell is None or cell == "":
        return None
    if not column.many:
        return READERS[column.kind](cell, column)
    if str(cell).strip().lower() == "none":
        return []
    parts = [part.strip() for part in cell.split(",")] if isinstance(cell, str) else [cell]
    return [
        None if column.gaps and part == "?" else READERS[column.kind](part, column)
        for part in parts
    ]


def written(value: Any, column: Column) -> Cell:
    """The cell of a value, so that reading it gives the value again."""
    if value is None:
        return None
    if column.many:
        if not value:
            return "none"
        return ", ".join("?" if each is None else str(_one(each)) for each in value)
    return _one(value)


def _one(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return value
    return escaped(str(value))


def escaped(text: str) -> str:
    """A text without what a workbook cannot hold, in the way that its own standard writes it."""

    def code(found: re.Match[str]) -> str:
        part = found.group()
        return f"_x{ord(part):04X}_" if len(part) == 1 else f"_x005F_{part[1:]}"

    return ESCAPED.sub(code, text)


def unescaped(text: str) -> str:
    """The text that `escaped` was given."""
    return CODED.sub(lambda found: chr(int(found.group(1), 16)), text)


def _text(cell: Cell, _: Column) -> str:
    if isinstance(cell, bool) or not isinstance(cell, (str, int, float)):
        raise Wrong("write it as text")
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)


def _choice(cell: Cell, column: Column) -> str:
    found = _text(cell, column).strip().lower().replace(" ", "_")
    for choice in column.choices:
        if found in (choice.lower(), choice.lower().replace(" ", "_")):
            return choice
    raise Wrong(f"{_text(cell, column)!r} is none of {', '.join(column.choices)}")


def _there(cell: Cell, column: Column) -> bool:
    return bool(_choice(cell, column))


def _yes(cell: Cell, _: Column) -> bool:
    if isinstance(cell, bool):
        return cell
    found = YES.get(str(cell).strip().lower())
    if found is None:
        raise Wrong(f"{cell!r} is neither yes nor no")
    return found


def _number(cell: Cell, _: Column) -> float | int:
    if isinstance(cell, bool):
        raise Wrong("yes or no stands where a number belongs")
    if isinstance(cell, (int, float)):
        return cell
    text = str(cell).strip()
    try:
        number = float(text)
    except ValueError:
        raise Wrong(f"{text!r} is no number; digits and a point, please") from None
    return int(text) if re.fullmatch(r"-?\d{1,15}", text) else number


def _integer(cell: Cell, column: Column) -> int:
    number = _number(cell, column)
    if number != number or number in (float("inf"), float("-inf")) or int(number) != number:
        raise Wrong(f"{cell!r} is no whole number")
    return int(number)


def _length(cell: Cell, column: Column) -> float | int:
    """Millimetres, from a bare number or from one with its unit."""
    if not isinstance(cell, str) or re.fullmatch(r"-?[\d.]+(e[-+]?\d+)?", cell):
        return _number(cell, column)
    text = cell.strip().lower()
    if found := METRIC.fullmatch(text):
        return float(Fraction(found.group(1)) * MM[found.group(2)])
    if (found := IMPERIAL.fullmatch(text)) and any(found.group(n) for n in (2, 3, 4)):
        minus, feet, inches, over, under = found.groups()
        if under is not None and int(under) == 0:
            raise Wrong(f"{cell!r} divides by nothing")
        part = Fraction(int(over), int(under)) if over else Fraction(0)
        mm = Fraction(feet or 0) * FOOT + (Fraction(inches or 0) + part) * INCH
        return float(-mm if minus else mm)
    raise Wrong(f"{cell!r} is no length; write 3810, 3.81 m or 12' 6\"")


def _gauge(cell: Cell, column: Column) -> str:
    """An AWG size or kcmil, by its number or by its cross-section in mm²."""
    text = _text(cell, column).strip().lower().removeprefix("#").strip()
    if found := MM2.fullmatch(text):
        return _by_area(float(found.group(1)), column)
    text = text.removesuffix("awg").removesuffix("kcmil").strip()
    if text in column.choices:
        return text
    raise Wrong(f"{cell!r} is no size; write 14, 1/0, 250 or 2.08 mm²")


def _by_area(area: float, column: Column) -> str:
    areas = {size: area_mm2(size) for size in column.choices}
    size = min(areas, key=lambda each: abs(areas[each] - area))
    if abs(areas[size] - area) > MM2_OFF * areas[size]:
        raise Wrong(f"{area:g} mm² is no AWG size; the nearest is {size}, {areas[size]:.2f} mm²")
    return size


def area_mm2(size: str) -> float:
    """The cross-section of an AWG size (ASTM B258: 0.127 mm × 92^((36 - n) / 39)) or of kcmil."""
    zeros = size.removesuffix("/0")
    if zeros == size and int(size) >= 250:
        return int(size) * 0.506707479
    number = 1 - int(zeros) if zeros != size else int(size)
    diameter = 0.127 * 92 ** ((36 - number) / 39)
    return float(pi / 4 * diameter**2)


READERS: dict[Kind, Callable[[Cell, Column], Any]] = {
    Kind.TEXT: _text,
    Kind.CHOICE: _choice,
    Kind.GAUGE: _gauge,
    Kind.YES: _yes,
    Kind.INTEGER: _integer,
    Kind.NUMBER: _number,
    Kind.LENGTH: _length,
    Kind.THERE: _there,
    Kind.NONE: _there,
}
