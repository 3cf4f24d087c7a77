"""A measure as it comes in: what a person typed off a tape, its figure in mm, or both."""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.utils.translation import get_language

from config.languages import imperial_units, said_later
from config.messages.lengths import (
    AGREES_MM,
    DISAGREES,
    INCHES,
    METRIC,
    LengthFault,
    read_length,
    readings,
    unread,
)


@dataclass(frozen=True, slots=True)
class Measured:
    """What a tape showed, exactly and as it was typed: None and empty where nothing was."""

    mm: float | None = None
    typed: str = ""

    @property
    def field(self) -> str:
        """Where it was given, so that a fault is shown there."""
        if self.typed:
            return "measured_typed"
        return "measured_mm"


def given_measure(typed: str, mm: float | None) -> Measured:
    """A measure of which one or both are given; what was typed gives the figure.

    A number typed alone is in the unit of whoever reads. Where both come, it may be in any unit
    and language that agrees: who types on a phone may have chosen another by the time it is sent.
    Raises ValidationError for what is no length, and for two that differ.
    """
    typed = typed.strip()
    if not typed:
        return Measured(mm)
    if mm is None:
        return Measured(_read(typed), typed)
    found = list(readings(typed))
    if not found:
        raise ValidationError({"measured_typed": said_later(unread(typed))})
    for each in found:
        if abs(each - mm) <= AGREES_MM:
            return Measured(each, typed)
    fault = DISAGREES(typed=typed, mm=mm, inches=INCHES, metric=METRIC)
    raise ValidationError({"measured_typed": said_later(fault)})


def _read(typed: str) -> float:
    language = (get_language() or "en").split("-")[0]
    try:
        return read_length(typed, language, imperial_units())
    except LengthFault as fault:
        raise ValidationError({"measured_typed": said_later(fault.text)}) from fault
