"""Quantities as a reader's tape, box stamp and scale show them.

Feet and inches go to the sixteenth, which is what a tape shows; metric lengths to the millimetre,
and below a hundred to its tenth. `Rounding` keeps a rounded figure on its side of a rounded limit.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from babel import Locale
from babel.numbers import format_decimal

from .message import CableRun, FloorSize, Length, Mass, Ohms, Percent, Ratio, Rounding, Volume

INCH = 25.4  # mm, exactly, by the international inch
CUBIC_INCH = 16.387064  # mL, exactly
POUND = 0.45359237  # kg, exactly
SQUARE_FOOT = 0.09290304  # m², exactly
DUST = 1e-6  # of a step: what arithmetic leaves


@dataclass(frozen=True, slots=True)
class UnitWords:
    """What a language calls the units that it does not write as everybody does."""

    feet: str = "ft"
    foot: str = "ft"
    inches: str = "in."
    cubic_inches: str = "cu. in."
    square_feet: str = "sq ft"
    pounds: str = "lb"


def rounded(value: float, step: float, rounding: Rounding) -> float:
    """A value as a whole number of steps, rounded so."""
    steps = value / step
    if rounding is Rounding.DOWN:
        return math.floor(steps + DUST)
    if rounding is Rounding.UP:
        return math.ceil(steps - DUST)
    return math.floor(steps + 0.5 + DUST)


@lru_cache(maxsize=4096)
def decimal(value: float, locale: str, places: int = 2) -> str:
    """A number without needless zeros, as the language writes it."""
    return format_decimal(round(value, places) + 0.0, "#,##0." + "#" * places, locale=locale)


def length_words(length: Length, imperial: bool, locale: str, words: UnitWords) -> str:
    """6 ft 1/2 in. or 1,842 mm."""
    if imperial:
        return _feet(length, words)
    step = 1.0
    if abs(length.mm) < 100:
        step = 0.1
    return f"{decimal(rounded(length.mm, step, length.rounding) * step, locale, 1)} mm"


def to_point_at(length: Length) -> Length:
    """The whole inch by which a box is found: nobody looks for it with a sixteenth."""
    return Length(rounded(length.mm, INCH, Rounding.NEAREST) * INCH)


def _feet(length: Length, words: UnitWords) -> str:
    sixteenths = int(rounded(length.mm, INCH / 16, length.rounding))
    sign = "-" if sixteenths < 0 else ""
    feet, rest = divmod(abs(sixteenths), 12 * 16)
    inches, part = divmod(rest, 16)
    figures = []
    if feet:
        unit = words.foot if feet == 1 else words.feet
        figures.append(f"{feet} {unit}")
    if inches or part or not feet:
        shown = []
        if inches or not part:
            shown.append(str(inches))
        if part:
            shown.append(str(Fraction(part, 16)))
        figures.append(" ".join((*shown, words.inches)))
    return sign + " ".join(figures)


def run_words(run: CableRun, imperial: bool, locale: str, words: UnitWords) -> str:
    """40 ft or 12 m, up to the next whole one: that much has to be there."""
    if imperial:
        feet = rounded(run.m * 1000, INCH * 12, Rounding.UP)
        return f"{decimal(feet, locale, 0)} {words.feet}"
    return f"{decimal(rounded(run.m, 1, Rounding.UP), locale, 0)} m"


def volume_words(volume: Volume, imperial: bool, locale: str, words: UnitWords) -> str:
    """14 cu. in. or 229.4 mL."""
    if imperial:
        cubic = rounded(volume.ml / CUBIC_INCH, 0.01, volume.rounding) * 0.01
        return f"{decimal(cubic, locale)} {words.cubic_inches}"
    return f"{decimal(rounded(volume.ml, 0.1, volume.rounding) * 0.1, locale, 1)} mL"


def weight_words(weight: Mass, imperial: bool, locale: str, words: UnitWords) -> str:
    """50 lb or 22.7 kg."""
    if imperial:
        pounds = rounded(weight.kg / POUND, 0.1, weight.rounding) * 0.1
        return f"{decimal(pounds, locale, 1)} {words.pounds}"
    return f"{decimal(rounded(weight.kg, 0.1, weight.rounding) * 0.1, locale, 1)} kg"


def area_words(area: FloorSize, imperial: bool, locale: str, words: UnitWords) -> str:
    """120 sq ft or 11.1 m²."""
    if imperial:
        feet = rounded(area.m2 / SQUARE_FOOT, 1, area.rounding)
        return f"{decimal(feet, locale, 0)} {words.square_feet}"
    return f"{decimal(rounded(area.m2, 0.1, area.rounding) * 0.1, locale, 1)} m²"


def percent_words(percent: Percent, locale: str) -> str:
    """33.3%, or 33,3 % with its space, as the language sets the sign."""
    share = rounded(percent.percent, 0.1, percent.rounding) * 0.1
    whole: str = Locale.parse(locale).percent_formats[None].pattern
    return format_decimal(round(share, 1) / 100, whole.replace("0", "0.#", 1), locale=locale)


def ohms_words(ohms: Ohms, locale: str) -> str:
    """25.1 Ω, to the tenth."""
    return f"{decimal(rounded(ohms.ohm, 0.1, ohms.rounding) * 0.1, locale, 1)} Ω"


def ratio_words(ratio: Ratio, locale: str) -> str:
    """1.8, to the tenth."""
    return decimal(rounded(ratio.times, 0.1, ratio.rounding) * 0.1, locale, 1)


Wording = Callable[..., str]
MEASURES: dict[type, Wording] = {
    Length: length_words,
    CableRun: run_words,
    Volume: volume_words,
    Mass: weight_words,
    FloorSize: area_words,
}
"""How each quantity that has more than one unit is said."""
