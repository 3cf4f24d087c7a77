"""A receptacle at each balcony, deck and porch."""

from collections.abc import Iterator

from inspections.checker.asking.required_receptacles import count_data, provided, tell_count

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "deck-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The deck and its receptacles."""
    return tell_count(finding, "porch, deck or balcony", "Add a receptacle reached from it.")


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles at decks, porches and balconies",
    tell=tell,
    scope=Scope.ROOM,
)
def deck_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A balcony, deck or porch at the house has a receptacle that a person on it reaches.

    Earlier editions ask only where a door of the house leads to it.
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
        verdict, missing = found.verdict(count, count), list[str]()
        if only and room.from_inside is None and verdict is not Verdict.MEETS:
            verdict, missing = Verdict.UNKNOWN, ["whether a door of the house leads to it"]
        data = count_data(found, (count, count), highest, *missing)
        data["from_inside"] = room.from_inside
        yield Finding(this, room.id, verdict, site.room_spot(room), data, limits)
