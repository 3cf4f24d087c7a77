"""Measures and places as people on site say them."""

from collections.abc import Iterable
from fractions import Fraction

INCH = 25.4  # mm, exactly, by the international inch
CUBIC_INCH = 16.387064  # mL, exactly
POUND = 0.45359237  # kg, exactly


def length(mm: float, imperial: bool = False) -> str:
    """A length in millimetres, and in feet and inches to the sixteenth where those are used."""
    metric = f"{_grouped(mm)} mm"
    if imperial:
        return f"{metric} ({feet(mm)})"
    return metric


def feet(mm: float) -> str:
    """Feet and inches to the nearest sixteenth: 6 ft 0 1/2 in."""
    sixteenths = round(abs(mm) / INCH * 16)
    whole, part = divmod(sixteenths, 16)
    ft, inches = divmod(whole, 12)
    fraction = ""
    if part:
        fraction = str(Fraction(part, 16))
    whole_inches = ""
    if inches or ft or not fraction:
        whole_inches = str(inches)
    text = f"{ft} ft " * bool(ft) + f"{whole_inches} {fraction}".strip() + " in"
    if mm < 0 and sixteenths:
        return f"-{text}"
    return text


def volume(ml: float, imperial: bool = False) -> str:
    """A volume in millilitres, and in cubic inches where those are used."""
    metric = f"{ml:,.1f} mL"
    if imperial:
        return f"{metric} ({ml / CUBIC_INCH:.2f} in³)"
    return metric


def weight(kg: float, imperial: bool = False) -> str:
    """A weight in kilograms, and in pounds where those are used."""
    metric = f"{number(kg)} kg"
    if imperial:
        return f"{metric} ({number(kg / POUND)} lb)"
    return metric


def number(value: float) -> str:
    """A count or a part of one without needless zeros."""
    if value % 1:
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return f"{value:.0f}"


def amperes(value: float) -> str:
    """A current: 15 A."""
    return f"{number(value)} A"


def plural(count: float, noun: str, many: str = "") -> str:
    """A count and its noun: 1 box, 2 boxes."""
    return f"{number(count)} {noun if count == 1 else many or noun + 's'}"


def listed(words: Iterable[str]) -> str:
    """Words as a list in a sentence: a, b and c."""
    words = list(words)
    if len(words) == 1:
        return words[0]
    if words:
        return f"{', '.join(words[:-1])} and {words[-1]}"
    return ""


def _grouped(mm: float) -> str:
    rounded = round(mm, 1)
    if rounded == int(rounded):
        return f"{rounded:,.0f}"
    return f"{rounded:,.1f}"
