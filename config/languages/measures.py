"""Numbers and measures as another language writes them: 1,234.5 mL is 1 234,5 mL in French."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from babel.dates import get_day_names, get_month_names

NUMBER = r"[-+−]?\d{1,3}(?:,\d{3})+(?:\.\d+)?|[-+−]?\d+(?:\.\d+)?"
UNIT = (
    r"mm²|mm|mL|in³|in|ft²|ft|kVA|VA|kW|kg|lb|kcmil|AWG|Ah|A|V|W|m²|m|°C|°F|°|%|Ω|ohms?|Hz|h|min|s"
    r"|hp|dB|lux|MB|kB|\$|€"
)
PART = rf"(?:(?:{NUMBER})(?:/\d+)?(?: ?(?:{UNIT}))?)"
WHOLE = re.compile(rf"(?:{PART})(?: {PART})*(?: \({PART}(?: {PART})*\))?")
FIGURE = re.compile(NUMBER)
UNITS = re.compile(rf"(?<![\w])(?:{UNIT})(?![\w²³])")


@dataclass(frozen=True, slots=True)
class Manner:
    """How a language writes numbers, and units that it calls otherwise."""

    thousands: str = ","
    decimal: str = "."
    units: Mapping[str, str] = field(default_factory=dict)
    dates: Mapping[str, str] = field(default_factory=dict)
    """English names of days and months, short and whole, and what they are called here."""


def localized_measure(text: str, manner: Manner) -> str | None:
    """A number or measure in that manner; None when the text is not one."""
    if not text or not (text[0].isdigit() or text[0] in "-+−") or not WHOLE.fullmatch(text):
        return None
    said = FIGURE.sub(lambda found: _figure(found[0], manner), text)
    return UNITS.sub(lambda found: manner.units.get(found[0], found[0]), said)


NAME = r"[A-Z][a-z]{2,8}"
DATE = re.compile(rf"(?:{NAME})?,? ?(?:\d\d? {NAME}|{NAME})?(?: \d{{4}})?(?:,? \d\d:\d\d)?")


def day(text: str, manner: Manner) -> str | None:
    """A day, a month or a date in words in that manner; None when the text is not one."""
    names = re.findall(NAME, text)
    if not names or not DATE.fullmatch(text) or not all(name in manner.dates for name in names):
        return None
    return re.sub(NAME, lambda found: manner.dates[found[0]], text)


def date_names(language: str) -> dict[str, str]:
    """The English names of days and months with those of a language, by the CLDR."""
    found: dict[str, str] = {}
    for width in ("wide", "abbreviated"):
        for names in (get_day_names, get_month_names):
            english, said = names(width, locale="en"), names(width, locale=language)
            for number in english:
                found[english[number]] = said[number]
    return found


def _figure(figure: str, manner: Manner) -> str:
    whole, _, part = figure.partition(".")
    return whole.replace(",", manner.thousands) + (f"{manner.decimal}{part}" if part else "")
