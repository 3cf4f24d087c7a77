"""A receptacle for each vehicle of a garage."""

from collections.abc import Iterator

from inspections.checker.asking.required_receptacles import (
    Provided,
    count_data,
    provided,
    tell_count,
)

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode
from ..words import listed

NAME = "garage-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The garage, its bays and its receptacles."""
    bays, bare = finding.facts["bays"], finding.facts["bare"]
    notes = [f"vehicle bays: {'not recorded' if bays is None else bays}"]
    remedy = "Add a receptacle for each vehicle."
    if bare:
        notes.append(f"no receptacle in bay {listed(str(bay) for bay in bare)}")
        remedy = f"Add a receptacle in bay {listed(str(bay) for bay in bare)}."
    if finding.verdict is Verdict.LOOK:
        remedy = "See that each bay has one, or record which bay each stands in."
    return tell_count(finding, "garage", remedy, notes)


@rule(NAME, topic="receptacles", title="Receptacles in garages", tell=tell, scope=Scope.ROOM)
def garage_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A garage has a receptacle for each vehicle, by some codes in the bay itself.

    Those of a door opener or another appliance do not count, nor do those that stand higher
    than the code allows.
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
    if verdict is Verdict.MEETS and bays and bays > 1 and book.value(f"{NAME}.in_bay"):
        verdict, bare = _in_bays(site, found, bays)
    missing = []
    if not bays:
        missing.append("how many vehicles the garage is for")
    data = count_data(found, (asked[0], asked[0]), highest, *missing)
    data |= {"bays": bays, "bare": bare}
    data["stands"] = [site.boxes[box].bay for box in found.has]
    return Finding(this, room.id, verdict, site.room_spot(room), data, tuple(book.limits_of(NAME)))


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
        return Verdict.MEETS, []
    unplaced = stands.count(None) + len(found.maybe)
    if unplaced >= len(bare):
        return (Verdict.LOOK, [])
    return (Verdict.SHORT, bare)
