"""What is walked together: the places of a house, and the cards of each. Pure.

A room has at most three cards: its boxes, its cables, and what is its own. What is about a panel or
about a circuit as a whole stands at the panel, whatever is outdoors is one card, and so are all
breakers at the finish.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Generic, TypeVar

Line = TypeVar("Line")


class WalkCard(StrEnum):
    """What the lines of a card are about, in the order that a room shows its cards."""

    BOXES = "boxes"
    CABLES = "cables"
    OWN = "own"
    OUTSIDE = "outside"
    PANEL = "panel"
    BREAKERS = "breakers"


class PlaceKind(StrEnum):
    """Where somebody stands with the phone, in the order that a house is walked."""

    ROOM = "room"
    OUTSIDE = "outside"
    PANEL = "panel"
    BREAKERS = "breakers"


BY_TOPIC = {
    "boxes": WalkCard.BOXES,
    "cables": WalkCard.CABLES,
    "communications": WalkCard.CABLES,
    "panel": WalkCard.PANEL,
    "grounding": WalkCard.PANEL,
}
"""Every other topic is the room's own."""
BY_RULE = {
    "communications-boxes": WalkCard.BOXES,
    "arc-fault-protection": WalkCard.PANEL,
    "circuit-paths": WalkCard.PANEL,
    "conductor-and-breaker": WalkCard.PANEL,
    "multiwire-circuits": WalkCard.PANEL,
    "outlets-per-circuit": WalkCard.PANEL,
    "receptacle-ratings": WalkCard.PANEL,
    "protection-tested": WalkCard.BREAKERS,
}
OF_A_CIRCUIT = "circuit/"
"""How a subject begins that is a circuit as a whole, where its rule has rooms as well."""
OF_A_ROOM = "room:"
"""How a subject begins that is what waits for eyes in a room."""
EACH_BY_ITSELF = frozenset({"panel", "grounding"})
"""Topics that no room check answers: bonding and what is made up at a panel."""
NEVER_TOGETHER = frozenset({"multiwire-circuits", "switch-neutrals", "protection-tested"})
"""Rules that no room check answers: neutrals, shared neutrals, and breakers that are tested."""


@dataclass(frozen=True, slots=True)
class WalkedThing:
    """What of a finding decides its card."""

    rule: str
    topic: str
    subject: str
    room: str
    outdoors: bool


@dataclass(slots=True)
class WalkPlace(Generic[Line]):
    """Somewhere that is walked by itself, with the lines of each of its cards."""

    kind: PlaceKind
    room: str
    """The id of a room; empty for any other place."""
    cards: dict[WalkCard, list[Line]] = field(default_factory=dict)

    @property
    def lines(self) -> Sequence[Line]:
        """All its lines, card by card."""
        lines: list[Line] = []
        for each in self.cards.values():
            lines.extend(each)
        return lines


def about_finding(finding: Mapping[str, Any], outdoors: frozenset[str]) -> WalkedThing:
    """What a stored finding is about; `outdoors` are the rooms that are out in the open."""
    room = str(finding["room"])
    topic = str(finding.get("topic", ""))
    return WalkedThing(finding["rule"], topic, finding["subject"], room, room in outdoors)


def settled_by_eye(rule: str, topic: str) -> bool:
    """Whether what is to be verified by a rule can be answered with its room."""
    return topic not in EACH_BY_ITSELF and rule not in NEVER_TOGETHER


def card_of(about: WalkedThing) -> WalkCard:
    """The card that a finding stands on."""
    card = BY_RULE.get(about.rule) or BY_TOPIC.get(about.topic, WalkCard.OWN)
    if about.subject.startswith(OF_A_CIRCUIT):
        card = WalkCard.PANEL
    if card is WalkCard.PANEL and about.subject.startswith(OF_A_ROOM):
        card = WalkCard.BOXES  # what is made up in the boxes of a room
    if about.outdoors and card not in (WalkCard.PANEL, WalkCard.BREAKERS):
        return WalkCard.OUTSIDE
    return card


def place_with(card: WalkCard) -> PlaceKind:
    """The place that has a card."""
    if card in (WalkCard.BOXES, WalkCard.CABLES, WalkCard.OWN):
        return PlaceKind.ROOM
    return PlaceKind(card.value)


def walk_places(
    lines: Iterable[Line], about: Callable[[Line], WalkedThing]
) -> list[WalkPlace[Line]]:
    """The places of a house with every line on one card: rooms as they come, then the others."""
    found: dict[tuple[PlaceKind, str], WalkPlace[Line]] = {}
    for line in lines:
        what = about(line)
        card = card_of(what)
        kind = place_with(card)
        room = ""
        if kind is PlaceKind.ROOM:
            room = what.room
        place = found.setdefault((kind, room), WalkPlace(kind, room))
        place.cards.setdefault(card, []).append(line)
    ordered = []
    for kind in PlaceKind:
        for place in found.values():
            if place.kind is kind:
                ordered.append(place)
    for place in ordered:
        place.cards = {card: place.cards[card] for card in WalkCard if card in place.cards}
    return ordered
