"""Receptacles for a washing machine and for the room it stands in."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.fixing import added_in_room
from inspections.checker.asking.receptacles import for_general_use, kept_for
from inspections.checker.asking.required_receptacles import (
    CountFacts,
    CountMissing,
    CountMissingFact,
    provided,
    tell_count,
)

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import Box
from ..house.fixtures import FixtureKind
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode

NAME = "laundry-receptacles"
PLACE = message("laundry-receptacles.place", "Laundry")
ADD = message("laundry-receptacles.remedy", "Add one for laundry equipment.")
PLUMBED = message("laundry-receptacles.plumbed", "places plumbed for a washer: {n}")


@dataclass(frozen=True, slots=True)
class LaundryFacts:
    """A laundry, its receptacles and its places for washers, None when not recorded."""

    count: CountFacts
    washers: int | None


def tell(finding: Finding) -> FindingWords:
    """The laundry and its receptacles."""
    facts: LaundryFacts = finding.facts
    notes = []
    if facts.washers is not None:
        notes.append(PLUMBED(n=facts.washers))
    return tell_count(finding, facts.count, PLACE(), ADD, notes)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in laundries",
    tell=tell,
    scope=Scope.ROOM,
    facts=LaundryFacts,
    fixes=added_in_room,
)
def laundry_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A washing machine has a receptacle where it will stand.

    One code requires one in the laundry area, another one at each place plumbed for a washing
    machine and a further one in a laundry room. The dryer's own does not count.
    """
    if site.rulebook.speaks_on(NAME):
        for room in site.house.rooms:
            washers = sum(each.kind is FixtureKind.WASHER for each in room.fixtures or ())
            if washers or room.kind is RoomKind.LAUNDRY:
                yield _room(this, site, room, None if room.fixtures is None else washers)


def _room(this: Rule, site: HouseByCode, room: Room, washers: int | None) -> Finding:
    book = site.rulebook
    limits = tuple(book.limits_of(NAME))
    each = book.value(f"{NAME}.washer", 0)
    least = book.value(f"{NAME}.area", 0)
    if room.kind is RoomKind.LAUNDRY:
        least += book.value(f"{NAME}.room", 0)
    asked = (least + each * (washers or 0), least + each * (1 if washers is None else washers))
    missing = []
    if asked[0] < asked[1]:
        missing.append(CountMissingFact(CountMissing.WASHERS))
    highest = book.value("wall-receptacles.max_height_mm")
    found = provided(site.boxes_in[room.id], highest, _serves)
    verdict = found.verdict(*asked)
    facts = LaundryFacts(found.facts(asked, highest, missing), washers)
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


def _serves(box: Box) -> bool:
    return for_general_use(box) or kept_for(box, "wash")
