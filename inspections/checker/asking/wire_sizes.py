"""Conductors by size and metal, and lists of cables, as sentences name them."""

from collections.abc import Collection
from enum import StrEnum

from config.messages.message import Listed, Message, Text, message
from inspections.checker.asking.lines import MOST_NAMED, in_order
from inspections.checker.asking.visual import COUNTED, PartKind
from inspections.checker.house.gauges import awg


class Metal(StrEnum):
    """What a conductor is made of."""

    COPPER = "copper"
    ALUMINUM = "aluminum"


OF_METAL: dict[Metal, Message] = {
    Metal.COPPER: message("wire.copper", "{size} copper"),
    Metal.ALUMINUM: message("wire.aluminum", "{size} aluminum"),
}
CABLES = message("wire.cables", "cables {cables}", one="cable {cables}")


def wire(size_awg: float, metal: Metal) -> Text:
    """A conductor by the number of its size: 6 AWG copper."""
    return OF_METAL[metal](size=awg(size_awg))


def cables_named(ids: Collection[str]) -> Text:
    """Cables by their ids, however many."""
    ordered = in_order(ids)
    return CABLES(cables=Listed(ordered), n=len(ordered))


def cables_told(ids: Collection[str]) -> Text:
    """Cables by their ids while they are few; else how many."""
    if len(ids) > MOST_NAMED:
        return COUNTED[PartKind.CABLE](n=len(ids))
    return cables_named(ids)
