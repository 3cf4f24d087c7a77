"""Inspections, trades and milestones as sentences name them. Pure."""

from collections.abc import Mapping, Sequence

from config.messages.message import Listed, Message, Text, Value, message
from inspections.standing.stages import Milestone

_KINDS: Mapping[str, Message] = {
    "service": message("inspection.kind.service", "service inspection"),
    "rough_in": message("inspection.kind.rough-in", "rough-in inspection"),
    "cover_up": message("inspection.kind.cover-up", "cover-up inspection"),
    "hookup": message("inspection.kind.hookup", "construction hookup inspection"),
    "finish": message("inspection.kind.finish", "finish inspection"),
    "final": message("inspection.kind.final", "final inspection"),
}
_OF_AREAS = message("inspection.of-areas", "{inspection} ({areas})")
IN_AREA = message("inspection.in-area", "{area}: {what}")
ITEMS_OPEN = message(
    "inspection.items-open",
    "{undone} To request the inspection all the same, choose “request with items open”.",
)
WINDOW = message("inspection.window", "{starts} to {ends}")
REFERENCE = message("inspection.reference", "reference {reference}")
NOTE = message("inspection.note", "“{note}”")
_MILESTONES: Mapping[Milestone, Message] = {
    Milestone.HOOKUP: message("milestone.hookup", "hookup"),
    Milestone.TEMPORARY_GONE: message("milestone.temporary-gone", "temporary service removed"),
    Milestone.FINAL: message("milestone.final", "final"),
}
_TRADES: Mapping[str, Message] = {
    "plumbing": message("trade.plumbing", "plumbing"),
    "hvac": message("trade.hvac", "HVAC"),
    "insulation": message("trade.insulation", "insulation"),
    "vapour barrier": message("trade.vapour-barrier", "vapour barrier"),
    "drywall": message("trade.drywall", "drywall"),
}


def inspection_kind(kind: str, areas: Sequence[str] = ()) -> Text:
    """An inspection by what it is for, and the areas where it is not for the whole job."""
    named = _KINDS[kind]()
    if areas:
        return _OF_AREAS(inspection=named, areas=Listed(tuple(areas)))
    return named


def milestone_name(milestone: Milestone) -> Text:
    """A milestone within a sentence."""
    return _MILESTONES[milestone]()


def trade_name(trade: str) -> Value:
    """A trade or a layer of the cover; one that a shop named itself stays as it was typed."""
    known = _TRADES.get(trade)
    if known is None:
        return trade
    return known()
