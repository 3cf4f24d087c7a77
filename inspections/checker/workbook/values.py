"""One cell: what a person typed as a value of the house, and a value as it is shown."""

import re
from fractions import Fraction
from math import log, pi
from typing import Any, get_args

from config.messages.message import Text
from config.messages.saying import said

from ..house.gauges import awg_number
from ..house.parts import Gauge
from ..units import INSIDE
from . import workbook_messages as words
from .sheets import CellKind, Column

Cell = str | int | float | bool | None

NONE = "(none)"
"""A list that is known to be empty."""
NOT_MEASURED = "?"
"""A value of a list that is not measured yet."""
LONGEST = 2000  # characters in a cell; the longest text of a house has 500


class Unreadable(Exception):
    """A cell that cannot be read. `text` says what would be right."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(said(text))


def cell_value(cell: Cell, column: Column) -> Any:
    """The value that a filled cell stands for. Raises Unreadable."""
    if isinstance(cell, str) and len(cell) > LONGEST:
        raise Unreadable(words.TOO_LONG(most=LONGEST))
    if not column.several:
        return _one(cell, column)
    text = cell
    if isinstance(cell, str):
        text = cell.strip()
    if text == NONE:
        return []
    if not isinstance(text, str):
        return [_one(text, column)]
    values: list[object] = []
    for part in text.split(";"):
        piece = part.strip()
        if piece == NOT_MEASURED:
            values.append(None)
        elif piece:
            values.append(_one(piece, column))
    return values


def cell_text(value: Any, column: Column) -> Cell:
    """A value as its cell shows it, so that reading it gives the same."""
    if column.several:
        pieces = []
        for each in value:
            pieces.append(NOT_MEASURED if each is None else _plain(each))
        if pieces:
            return "; ".join(pieces)
        return NONE
    if column.kind is CellKind.YES:
        if value:
            return "yes"
        return "no"
    return value  # type: ignore[no-any-return]


def _plain(value: Any) -> str:
    if isinstance(value, str):
        return value
    return repr(value)


def _one(cell: Cell, column: Column) -> Any:
    if column.kind in (CellKind.YES, CellKind.RECORDED):
        return _yes(cell)
    if column.kind is CellKind.GAUGE:
        return gauge(cell)
    if column.kind is CellKind.NUMBER:
        return cell_number(cell, column.unit)
    if column.kind is CellKind.WHOLE:
        return _whole(cell_number(cell, column.unit))
    text = _text(cell)
    if column.kind is CellKind.CHOICE:
        return _choice(text, column.choices)
    return text


def _text(cell: Cell) -> str:
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)


def _choice(text: str, choices: tuple[str, ...]) -> str:
    asked = text.strip()
    near = asked.lower().replace(" ", "_")
    for each in (asked, near):
        if each in choices:
            return each
    raise Unreadable(words.ONE_OF(choices=", ".join(choices), given=_quoted(asked)))


def _yes(cell: Cell) -> bool:
    if isinstance(cell, bool):
        return cell
    word = _text(cell).strip().lower()
    if word in ("yes", "y", "true", "1"):
        return True
    if word in ("no", "n", "false", "0"):
        return False
    raise Unreadable(words.YES_OR_NO(given=_quoted(_text(cell))))


def _whole(value: float) -> int:
    if value != int(value):
        raise Unreadable(words.WHOLE(given=str(value)))
    return int(value)


def _quoted(text: str) -> str:
    return repr(text if len(text) <= 40 else f"{text[:39]}…")


_NUMBER = r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?"
_FIGURE = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
_FEET = re.compile(
    r"""(?P<minus>-\s*)?
    (?:(?P<feet>[0-9]{1,6}(?:\.[0-9]{1,9})?)\s*(?:'|ft\.?|feet|foot)\s*-?\s*)?
    (?:(?:(?P<inches>[0-9]{1,6}(?:\.[0-9]{1,9})?)(?:\s+|-|(?=\s*(?:"|in)))\s*)?
       (?:(?P<top>[0-9]{1,4})/(?P<bottom>[0-9]{1,4})\s*)?(?P<mark>"|in\.?|inches|inch))?""",
    re.VERBOSE | re.IGNORECASE,
)
_TYPED = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "−": "-", "\u00a0": " "})
_HALVES = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
FACTORS: dict[str, dict[str, float]] = {
    "mm": {"mm": 1, "cm": 10, "m": 1000},
    "mL": {"ml": 1, "cm3": 1, "cc": 1, "in3": INSIDE["in3"][1], "cu in": INSIDE["in3"][1]},
    "kg": {"kg": 1, "lb": INSIDE["lb"][1], "lbs": INSIDE["lb"][1]},
    "A": {"a": 1},
    "V": {"v": 1, "kv": 1000},
    "VA": {"va": 1, "kva": 1000, "w": 1, "kw": 1000},
    "°": {"°": 1, "deg": 1},
    "°C": {"°c": 1, "c": 1},
    "m³": {"m3": 1},
    "Ω": {"ω": 1, "ohm": 1, "ohms": 1},
    "%": {"%": 1},
    "W/K": {"w/k": 1},
}
"""What a unit typed behind a figure is worth in the unit of the column."""


def cell_number(cell: Cell, unit: str = "") -> float:
    """A figure, in the unit of its column or with another that is known. Raises Unreadable."""
    if isinstance(cell, bool):
        raise Unreadable(words.NUMBER(given=str(cell).lower()))
    if isinstance(cell, int | float):
        return cell
    text = str(cell).strip().translate(_TYPED)
    found = _FIGURE.fullmatch(text)
    if found:
        rest = found[2].strip().lower().replace("³", "3").rstrip(".")
        if not rest:
            return float(found[1])
        if rest in FACTORS.get(unit, ()):
            return float(found[1]) * FACTORS[unit][rest]
    if unit == "mm" and (length := _feet_and_inches(text)) is not None:
        return length
    raise Unreadable(_wanted(unit, _quoted(text)))


def _wanted(unit: str, given: str) -> Text:
    """What a figure in that unit looks like, and what was typed instead."""
    if unit == "mm":
        return words.LENGTH(given=given)
    others = ", ".join(FACTORS.get(unit, ()))
    if unit:
        return words.NUMBER_IN(unit=unit, others=others, given=given)
    return words.NUMBER(given=given)


def _feet_and_inches(text: str) -> float | None:
    for sign, fraction in _HALVES.items():
        text = text.replace(sign, f" {fraction}")
    found = _FEET.fullmatch(" ".join(text.split()))
    if not found or not _says_enough(found):
        return None
    bottom = int(found["bottom"] or 1)
    if bottom == 0:
        return None
    inches = 12 * Fraction(found["feet"] or 0) + Fraction(found["inches"] or 0)
    inches += Fraction(int(found["top"] or 0), bottom)
    if found["minus"]:
        inches = -inches
    return float(inches * Fraction("25.4"))


def _says_enough(found: re.Match[str]) -> bool:
    """Whether there are feet, or inches under their mark; a mark stands behind a figure."""
    if not found["mark"]:
        return found["feet"] is not None
    return found["inches"] is not None or found["top"] is not None


_METRIC = re.compile(r"([0-9]{1,4}(?:\.[0-9]{1,6})?)\s*(?:mm²|mm2|sq\.? ?mm)", re.IGNORECASE)
_AWG = re.compile(r"(?:awg\s*)?#?\s*([0-9]{1,3}(?:/0)?)\s*(?:awg|kcmil|mcm)?", re.IGNORECASE)
NEAR = 0.03  # how far a printed area may be from the size's own


def gauge(cell: Cell) -> str:
    """A wire size: 14, 14 AWG, 2/0, 250 kcmil or 2.08 mm². Raises Unreadable."""
    text = _text(cell).strip()
    if found := _METRIC.fullmatch(text):
        return _by_area(float(found[1]), text)
    found = _AWG.fullmatch(text)
    if found and found[1] in get_args(Gauge):
        return found[1]
    raise Unreadable(words.SIZE(given=_quoted(text)))


def area_mm2(size: str) -> float:
    """The area of a size in mm²: by the definition of AWG (ASTM B258), or of the kcmil."""
    if len(size) == 3 and "/" not in size:
        return float(size) * 1000 * pi / 4 * 0.0254**2
    diameter: float = 0.127 * 92 ** ((36 - awg_number(size)) / 39)
    return pi / 4 * diameter**2


def _by_area(area: float, text: str) -> str:
    sizes: tuple[str, ...] = get_args(Gauge)
    if area > 0:
        near = min(sizes, key=lambda size: abs(log(area_mm2(size) / area)))
        if abs(area_mm2(near) / area - 1) <= NEAR:
            return near
        size = float(f"{area_mm2(near):.3g}")
        raise Unreadable(words.NO_AWG(given=_quoted(text), near=near, area=size))
    raise Unreadable(words.WIRE_SIZE(given=_quoted(text)))
