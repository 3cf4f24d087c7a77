"""A receptacle for anything that has to be plugged in where nothing is finished."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.fixing import added_in_room
from inspections.checker.asking.required_receptacles import CountFacts, provided, tell_count

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "utility-receptacles"
UTILITY = message("utility-receptacles.utility", "Utility room")
UNFINISHED = message("utility-receptacles.unfinished", "Unfinished basement")
ADD = message("utility-receptacles.remedy", "Add one for general use.")


@dataclass(frozen=True, slots=True)
class UtilityFacts:
    """A room where nothing is finished, and its receptacles."""

    count: CountFacts
    kind: RoomKind


def tell(finding: Finding) -> FindingWords:
    """The room and its receptacles."""
    facts: UtilityFacts = finding.facts
    place = UNFINISHED()
    if facts.kind is RoomKind.UTILITY:
        place = UTILITY()
    return tell_count(finding, facts.count, place, ADD)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in utility rooms and basements",
    tell=tell,
    scope=Scope.ROOM,
    facts=UtilityFacts,
    fixes=added_in_room,
)
def utility_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A utility room or unfinished basement has a receptacle beside those of its equipment."""
    book = site.rulebook
    if f"{NAME}.count" not in book:
        return
    limits, count = tuple(book.limits_of(NAME)), book.value(f"{NAME}.count")
    highest = book.value("wall-receptacles.max_height_mm")
    for room in site.house.rooms:
        if room.kind in book.value(f"{NAME}.rooms"):
            found = provided(site.boxes_in[room.id], highest)
            facts = UtilityFacts(found.facts((count, count), highest), room.kind)
            verdict = found.verdict(count, count)
            yield Finding(this, room.id, verdict, site.room_spot(room), facts, limits)
