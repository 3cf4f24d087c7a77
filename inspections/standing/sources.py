"""How it is known that a line is OK: drawn, stated on site, or measured there. Pure."""

from enum import StrEnum

from config.messages.message import Text, Value, message
from inspections.standing.holds import Standing

DRAWN = message("known-by.drawn", "OK on plan (drawn)")
STATED = message("known-by.stated", "OK on site: seen by {person}")
MEASURED = message("known-by.measured", "OK on site: measured {length} by {person}")


class KnownBy(StrEnum):
    """Where the fact comes from that a line passes on."""

    DRAWN = "drawn"
    """From the plan: nobody on site has looked."""
    STATED = "stated"
    """Somebody on site says so, by eye."""
    MEASURED = "measured"
    """Somebody on site put a tape to it."""


def how_known(standing: Standing, *, seen: bool, measured: bool) -> KnownBy | None:
    """How a line is known to be OK; None for one that is not.

    `seen` says that a look at its facts as they are now settles it, `measured` that this look has
    the figure of a tape for what is measured there.
    """
    if standing is not Standing.OK:
        return None
    if not seen:
        return KnownBy.DRAWN
    if measured:
        return KnownBy.MEASURED
    return KnownBy.STATED


def known_by_words(known: KnownBy, person: str, length: Value) -> Text:
    """How a line is known to be OK, with who saw it and what their tape showed."""
    if known is KnownBy.MEASURED:
        return MEASURED(length=length, person=person)
    if known is KnownBy.STATED:
        return STATED(person=person)
    return DRAWN()
