"""What somebody's tape showed, as people read it."""

from config.languages.own_words import Typed
from config.messages.lengths import as_typed
from config.messages.message import Length, Text
from inspections.models import Observation


def tape_words(seen: Observation) -> Text | Length | Typed:
    """What a tape showed, as it was typed; its figure in the unit of whoever reads it otherwise."""
    if seen.measured_mm is None:
        return Typed()
    if not seen.measured_typed:
        return Length(seen.measured_mm)
    words = as_typed(seen.measured_typed, seen.measured_mm)
    if isinstance(words, str):
        return Typed(words)
    return words
