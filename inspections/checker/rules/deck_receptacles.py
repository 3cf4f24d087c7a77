"""A receptacle at each balcony, deck and porch."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.required_receptacles import (
    CountFacts,
    CountMissing,
    CountMissingFact,
    provided,
    tell_count,
)

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "deck-receptacles"
PLACE = message("deck-receptacles.place", "Deck, porch or balcony")
ADD = message("deck-receptacles.remedy", "Add one that can be reached from it.")


@dataclass(frozen=True, slots=True)
class DeckFacts:
    """A deck, its receptacles, and whether a door of the house leads to it."""

    count: CountFacts
    from_inside: bool | None


def tell(finding: Finding) -> FindingWords:
    """The deck and its receptacles."""
    facts: DeckFacts = finding.facts
    return tell_count(finding, facts.count, PLACE(), ADD)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles at decks, porches and balconies",
    tell=tell,
    scope=Scope.ROOM,
    facts=DeckFacts,
)
def deck_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A balcony, deck or porch at the house has a receptacle that a person on it reaches.

    Earlier editions require it only where a door of the house leads to it.
    """
    book = site.rulebook
    if f"{NAME}.count" not in book:
        return
    limits, count = tuple(book.limits_of(NAME)), book.value(f"{NAME}.count")
    highest = book.value(f"{NAME}.max_height_mm")
    for room in site.house.rooms:
        only = book.value(f"{NAME}.only_from_inside")
        if room.kind is not RoomKind.PORCH or (only and room.from_inside is False):
            continue
        found = provided(site.boxes_in[room.id], highest)
        verdict, missing = found.verdict(count, count), list[CountMissingFact]()
        if only and room.from_inside is None and verdict is not Verdict.OK:
            verdict, missing = Verdict.INFO_NEEDED, [CountMissingFact(CountMissing.DOOR)]
        facts = DeckFacts(found.facts((count, count), highest, missing), room.from_inside)
        yield Finding(this, room.id, verdict, site.room_spot(room), facts, limits)
