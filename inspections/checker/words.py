"""Measures and places as people on site say them."""

from collections.abc import Iterable
from fractions import Fraction

INCH = 25.4  # mm, exactly, by the international inch
CUBIC_INCH = 16.387064  # mL, exactly
POUND = 0.45359237  # kg, exactly


def length(mm: float, imperial: bool = False) -> str:
    """A length in millimetres, and in feet and inches to the sixteenth where those are used."""
    metric = f"{_grouped(mm)} mm"
    return f"{metric} ({feet(mm)})" if imperial else metric


def feet(mm: float) -> str:
    """Feet and inches to the nearest sixteenth: 6 ft 0 1/2 in."""
    sixteenths = round(abs(mm) / INCH * 16)
    whole, part = divmod(sixteenths, 16)
    ft, inches = divmod(whole, 12)
    fraction = str(Fraction(part, 16)) if part else ""
    whole_inches = str(inches) if inches or ft or not fraction else ""
    text = f"{ft} ft " * bool(ft) + f"{whole_inches} {fraction}".strip() + " in"
    return f"-{text}" if mm < 0 and sixteenths else text


def volume(ml: float, imperial: bool = False) -> str:
    """A volume in millilitres, and in cubic inches where those are used."""
    metric = f"{ml:,.1f} mL"
    return f"{metric} ({ml / CUBIC_INCH:.2f} in³)" if imperial else metric


def weight(kg: float, imperial: bool = False) -> str:
    """A weight in kilograms, and in pounds where those are used."""
    metric = f"{number(kg)} kg"
    return f"{metric} ({number(kg / POUND)} lb)" if imperial else metric


def number(value: float) -> str:
    """A count or a part of one without needless zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value % 1 else f"{value:.0f}"


def amperes(value: float) -> str:
    """A current: 15 A."""
    return f"{number(value)} A"


def plural(count: float, noun: str, many: str = "") -> str:
    """A count and its noun: 1 box, 2 boxes."""
    return f"{number(count)} {noun if count == 1 else many or noun + 's'}"


def listed(words: Iterable[str]) -> str:
    """Words as a list in a sentence: a, b and c."""
    words = list(words)
    return (
        words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""
    )


def _grouped(mm: float) -> str:
    rounded = round(mm, 1)
    return f"{rounded:,.0f}" if rounded == int(rounded) else f"{rounded:,.1f}"
