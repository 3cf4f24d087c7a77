"""Lengths as people type them off a tape: 6 1/4", 6-1/4 in, 2' 4", 2'4, 160, 16 cm, 0.16 m, 152,5.

A number without a unit is in the unit of whoever types: inches or mm. What is read is exact, and
anything in doubt is refused: `61/4"` may be a space that was not typed. `static/js/lengths.js`
reads the same; `tests/config/messages/lengths.json` has the cases of both. Pure.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from .message import Length, Text, message

LONGEST_MM = 100_000
"""No tape shows more, and nothing in a house is longer."""
MOST_TYPED = 40
"""Signs that a length is typed with at the most."""
AGREES_MM = 0.01
"""Two figures of one measure differ by no more."""

UNREAD = message(
    "length.unread",
    "“{typed}” cannot be read as a length. Enter a length such as {inches} or {metric}.",
)
TOO_LONG = message(
    "length.too-long", "“{typed}” is longer than {longest}. Check the figure and its unit."
)
NO_UNIT = message(
    "length.no-unit",
    "“{typed}” has no unit. Enter a length with its unit, such as {inches} or {metric}.",
)
DISAGREES = message(
    "length.disagrees",
    "“{typed}” is not {mm} mm. Give one of them, or the same length as both, "
    "such as {inches} or {metric}.",
)
IN_INCHES = message("length.in-inches", "{typed} in.")
INCHES, METRIC = '6 1/4"', "160 mm"
"""What a field for a length shows as an example, by the unit of its reader."""

INCH, FOOT = Fraction(254, 10), Fraction(3048, 10)
UNITS = {
    **dict.fromkeys(("'", "ft", "foot", "feet", "pi", "pied", "pieds", "pie", "pies"), FOOT),
    **dict.fromkeys(('"', "in", "inch", "inches", "po", "pouce", "pouces"), INCH),
    **dict.fromkeys(("pulg", "pulgada", "pulgadas"), INCH),
    "m": Fraction(1000),
    "cm": Fraction(10),
    "mm": Fraction(1),
}
"""In mm, by every name that a unit is typed with."""
FOLLOWERS = {FOOT: (INCH,), UNITS["m"]: (UNITS["cm"], UNITS["mm"]), UNITS["cm"]: (UNITS["mm"],)}
"""What may come after a whole number of a unit, and is less than one of it."""

GROUPED = {
    "en": r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]{1,6})?",
    "fr": r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]{1,6})?",
    "es": r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]{1,6})?",
}
"""Numbers with their thousands set apart, as pages in that language write them."""
PLAIN = {
    "en": r"[0-9]{0,7}\.[0-9]{1,6}|[0-9]{1,7}",
    "fr": r"[0-9]{0,7}[.,][0-9]{1,6}|[0-9]{1,7}",
    "es": r"[0-9]{0,7}[.,][0-9]{1,6}|[0-9]{1,7}",
}
FRACTION = r"(?:(?P<whole>[0-9]{1,6})(?: ?- ?| ))?(?P<over>[0-9]{1,3}) ?/ ?(?P<under>[0-9]{1,3})"
_NAMES = "|".join(sorted((name for name in UNITS if name.isalpha()), key=len, reverse=True))
UNIT = rf" ?(?P<unit>(?:{_NAMES})(?![a-z])\.?|['\"])?"
PARTS = {
    language: re.compile(
        f"(?:{FRACTION}|(?P<grouped>{grouped})|(?P<plain>{PLAIN[language]})){UNIT}"
    )
    for language, grouped in GROUPED.items()
}
"""A number with its unit, by language."""
BETWEEN = re.compile(" ?-? ?")
"""What may stand between two numbers with their units."""
SIGNS = str.maketrans(
    {
        **dict.fromkeys("″”“", '"'),
        **dict.fromkeys("′’‘", "'"),
        **dict.fromkeys("‐‑–", "-"),
        **dict.fromkeys("\u00a0\u202f\u2009\t", " "),
        "⁄": "/",
        **{"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8"},
        "⅞": " 7/8",
    }
)


class LengthFault(ValueError):
    """What was typed is no length; `text` says why, and what would be one."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


@dataclass(frozen=True, slots=True)
class _Part:
    """A number with its unit; None where none was typed."""

    value: Fraction
    unit: Fraction | None
    broken: bool = False
    """Whether it was typed as a fraction, which only feet and inches are."""

    def after(self, feet: "_Part") -> "_Part":
        """After feet a number alone is inches: 2'4."""
        if self.unit is None and feet.unit == FOOT:
            return replace(self, unit=INCH)
        return self

    def goes_on(self, after: "_Part") -> bool:
        """Whether another part may come after this one: 2 ft is whole, and 4 in. is less of it."""
        if self.unit is None or after.unit is None or self.value.denominator != 1:
            return False
        return after.unit in FOLLOWERS.get(self.unit, ()) and after.value * after.unit < self.unit


def read_length(
    typed: str, language: str, imperial: bool, *, longest_mm: float = LONGEST_MM
) -> float:
    """The length in mm. Raises LengthFault for what is none."""
    found = _length(typed, language, imperial)
    if found is None:
        raise LengthFault(unread(typed))
    if found > longest_mm:
        raise LengthFault(TOO_LONG(typed=typed.strip(), longest=Length(longest_mm)))
    return float(found)


def unread(typed: str) -> Text:
    """Why that is no length."""
    return UNREAD(typed=_shortened(typed), inches=INCHES, metric=METRIC)


def without_unit(typed: str) -> Text:
    """Why that is no length to whoever does not know in which unit it was typed."""
    return NO_UNIT(typed=_shortened(typed), inches=INCHES, metric=METRIC)


def _shortened(typed: str) -> str:
    typed = typed.strip()
    if len(typed) > MOST_TYPED:
        return f"{typed[: MOST_TYPED - 1]}…"
    return typed


def is_bare(typed: str) -> bool:
    """Whether it is a length only by the unit of whoever typed it."""
    return any(_bare_in(typed, language) for language in PARTS)


def _bare_in(typed: str, language: str) -> bool:
    parts = _parts(typed, language)
    return parts is not None and parts[-1].unit is None


def readings(typed: str) -> Iterator[float]:
    """What it is in mm to whoever may have typed it, in any language and either unit."""
    for language in PARTS:
        for imperial in (True, False):
            found = _length(typed, language, imperial)
            if found is not None and found <= LONGEST_MM:
                yield float(found)


def as_typed(typed: str, mm: float) -> Text | str:
    """What was typed of a measure of so many mm; with its unit, where that was not typed."""
    if not is_bare(typed):
        return typed
    for language in PARTS:
        found = _length(typed, language, False)
        if found is not None and abs(float(found) - mm) <= AGREES_MM:
            return f"{typed} mm"
    return IN_INCHES(typed=typed)


def _length(typed: str, language: str, imperial: bool) -> Fraction | None:
    parts = _parts(typed, language)
    if parts is None:
        return None
    own = UNITS["mm"]
    if imperial:
        own = INCH
    total = Fraction(0)
    for part in parts:
        unit = part.unit or own
        if part.broken and unit not in (INCH, FOOT):
            return None
        total += part.value * unit
    return total


def _parts(typed: str, language: str) -> list[_Part] | None:
    """Numbers with their units, in the order typed; None where something else is among them."""
    if len(typed) > MOST_TYPED:
        return None
    words = re.sub(" +", " ", typed.translate(SIGNS).lower().replace("''", '"')).strip(" ")
    parts: list[_Part] = []
    at = 0
    while at < len(words) or not parts:
        if parts:
            at = _end(BETWEEN.match(words, at))
        found = PARTS[language].match(words, at)
        part = found and _part(found)
        if part and parts:
            part = part.after(parts[-1])
        if part is None or (parts and not parts[-1].goes_on(part)):
            return None
        parts.append(part)
        at = _end(found)
    return parts


def _end(found: re.Match[str] | None) -> int:
    assert found is not None
    return found.end()


def _part(found: re.Match[str]) -> _Part | None:
    """What was found of a number and its unit; None for a fraction that is in doubt."""
    unit = None
    if found["unit"]:
        unit = UNITS[found["unit"].rstrip(".")]
    if found["grouped"] or found["plain"]:
        return _Part(_number(found["grouped"], found["plain"]), unit)
    over, under = int(found["over"]), int(found["under"])
    # 61/4 may be 6 1/4 without its space.
    if over >= under:
        return None
    return _Part(int(found["whole"] or 0) + Fraction(over, under), unit, broken=True)


def _number(grouped: str | None, plain: str | None) -> Fraction:
    if grouped and " " not in grouped:
        return Fraction(grouped.replace(",", ""))
    return Fraction((grouped or plain or "").replace(" ", "").replace(",", "."))
