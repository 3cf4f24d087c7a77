"""A receptacle for each vehicle of a garage."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import Listed, Value, message
from inspections.checker.asking.fixing import added_receptacle, on_longest_wall
from inspections.checker.asking.required_receptacles import (
    CountFacts,
    CountMissing,
    CountMissingFact,
    Provided,
    add_words,
    provided,
    tell_count,
)
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode

NAME = "garage-receptacles"
PLACE = message("garage-receptacles.place", "Garage")
ADD = message("garage-receptacles.remedy", "Add one for each vehicle that has none.")
BARE = message(
    "garage-receptacles.bare",
    "Bays {bays} have no receptacle; 1 required in each.",
    one="Bay {bays} has no receptacle; 1 required in each.",
)
ADD_THERE = message("garage-receptacles.bare.remedy", "Add one there.")
EACH_BAY = message("garage-receptacles.verify", "Each of the {bays} bays has a receptacle.")
VERIFY = message(
    "garage-receptacles.verify.remedy", "Verify on site, or record the bay of each box."
)
BAYS = message("garage-receptacles.bays", "{n} vehicle bays", one="{n} vehicle bay")
IN_BAY = message("garage-receptacles.in-bay", "receptacles in bay {bay}: {n}")
IN_NO_BAY = message("garage-receptacles.in-no-bay", "receptacles in a bay not recorded yet: {n}")


@dataclass(frozen=True, slots=True)
class ReceptacleInBay:
    """A receptacle that counts, by its box, and the bay it is in."""

    box: str
    bay: int | None


@dataclass(frozen=True, slots=True)
class GarageFacts:
    """A garage, its bays and its receptacles."""

    count: CountFacts
    bays: int | None
    bare: frozenset[int]
    """The bays that surely have none."""
    placed: frozenset[ReceptacleInBay]


def tell(finding: Finding) -> FindingWords:
    """The garage, its bays and its receptacles."""
    facts: GarageFacts = finding.facts
    words = tell_count(finding, facts.count, PLACE(), ADD, _bay_lines(facts))
    if finding.verdict is Verdict.VERIFY:
        return replace(words, says=EACH_BAY(bays=facts.bays or 0), remedy=VERIFY())
    if facts.bare:
        says = BARE(n=len(facts.bare), bays=Listed(tuple(sorted(facts.bare))))
        return replace(words, says=says, remedy=add_words(facts.count, ADD_THERE()))
    return words


def _bay_lines(facts: GarageFacts) -> list[Value]:
    """How many bays there are and, of more than one, what is recorded in each."""
    if facts.bays is None:
        return []
    lines: list[Value] = [BAYS(n=facts.bays)]
    recorded = [each.bay for each in facts.placed]
    if facts.bays == 1 or recorded.count(None) == len(recorded):
        return lines
    for bay in range(1, facts.bays + 1):
        lines.append(IN_BAY(bay=bay, n=recorded.count(bay)))
    if None in recorded:
        lines.append(IN_NO_BAY(n=recorded.count(None)))
    return lines


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle in the first bay that has none."""
    facts, room = finding.facts, finding.spot.room
    taken = {each.bay for each in facts.placed}
    for bay in range(1, (facts.bays or 0) + 1):
        if bay not in taken:
            yield added_receptacle(house, on_longest_wall(house, room), room, bay=bay)
            return


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in garages",
    tell=tell,
    scope=Scope.ROOM,
    facts=GarageFacts,
    fixes=_fixes,
)
def garage_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A garage has a receptacle for each vehicle, by some codes in the bay itself.

    Those of a door opener or another appliance do not count, nor do those higher than the code
    allows.
    """
    if f"{NAME}.per_bay" in site.rulebook:
        for room in site.house.rooms:
            if room.kind is RoomKind.GARAGE and room.vehicle_bays != 0:
                yield _garage(this, site, room)


def _garage(this: Rule, site: HouseByCode, room: Room) -> Finding:
    book, bays = site.rulebook, room.vehicle_bays
    per_bay, highest = book.value(f"{NAME}.per_bay"), book.value(f"{NAME}.max_height_mm")
    found = provided(site.boxes_in[room.id], highest)
    asked = (per_bay * (bays or 1), per_bay * bays if bays else 1_000)
    verdict, bare = found.verdict(*asked), list[int]()
    if verdict is Verdict.OK and bays and bays > 1 and book.value(f"{NAME}.in_bay"):
        verdict, bare = _in_bays(site, found, bays)
    missing = []
    if not bays:
        missing.append(CountMissingFact(CountMissing.BAYS))
    placed = []
    for box in found.has:
        placed.append(ReceptacleInBay(box, site.boxes[box].bay))
    count = found.facts((asked[0], asked[0]), highest, missing)
    facts = GarageFacts(count, bays, frozenset(bare), frozenset(placed))
    limits = tuple(book.limits_of(NAME))
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


def _in_bays(site: HouseByCode, found: Provided, bays: int) -> tuple[Verdict, list[int]]:
    """Whether each bay has one of them, and the bays that surely have none."""
    stands = []
    for box in found.has:
        stands.append(site.boxes[box].bay)
    bare = []
    for bay in range(1, bays + 1):
        if bay not in stands:
            bare.append(bay)
    if not bare:
        return Verdict.OK, []
    unplaced = stands.count(None) + len(found.maybe)
    if unplaced >= len(bare):
        return (Verdict.VERIFY, [])
    return (Verdict.NOT_TO_CODE, bare)
