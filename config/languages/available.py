"""The languages that Studbay speaks. Nothing of Django is needed to know them."""

from config.messages.measures import UnitWords

LANGUAGES = (("en", "English"), ("fr", "Français"), ("es", "Español"))
"""By code (ISO 639-1), each by its own name."""

TRANSLATED = ("fr", "es")
"""Those that a catalogue holds; English is what the program is written in."""
LOCALES = {"en": "en_US", "fr": "fr_CA", "es": "es_US"}
"""How figures, lists and days are written, by the CLDR."""
UNIT_WORDS = {
    "fr": UnitWords("pi", "pi", "po", "po³", "pi²", "lb"),
    "es": UnitWords("pies", "pie", "pulg.", "pulg.³", "pies²", "lb"),
}
"""What a language calls the units of feet and inches."""
UNITS = (("imperial", "ft in."), ("metric", "mm"))
"""Systems of units that a person reads, each by its own sign. The first is what a shop reads where
nobody chose, in Canada too: the trade measures in inches there."""
