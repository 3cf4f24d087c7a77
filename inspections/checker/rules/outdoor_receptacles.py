"""Receptacles outdoors that a person reaches from the ground."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import message
from inspections.checker.asking.fixing import added_receptacle, box_named, done, on_longest_wall
from inspections.checker.asking.required_receptacles import (
    CountFacts,
    CountMissing,
    CountMissingFact,
    Provided,
    UncountedReceptacle,
    WhyNotCounted,
    provided,
    tell_count,
)
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import Box
from ..house.rooms import Room, RoomKind, Side
from ..site import HouseByCode
from ..spot import OUTDOORS

NAME = "outdoor-receptacles"
OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)
PLACES = {
    Side.FRONT: message("outdoor-receptacles.place.front", "Front of the house"),
    Side.BACK: message("outdoor-receptacles.place.back", "Back of the house"),
    None: message("outdoor-receptacles.place", "Outside"),
}
UNRECORDED = {
    Side.FRONT: CountMissing.FRONT,
    Side.BACK: CountMissing.BACK,
    None: CountMissing.OUTSIDE,
}
ADD = message("outdoor-receptacles.remedy", "Add one that can be reached from the ground.")


@dataclass(frozen=True, slots=True)
class OutdoorFacts:
    """A side of the house, or all of it, and its receptacles."""

    count: CountFacts
    side: Side | None


def tell(finding: Finding) -> FindingWords:
    """A side of the house, or all of it, and its receptacles."""
    facts: OutdoorFacts = finding.facts
    return tell_count(finding, facts.count, PLACES[facts.side](), ADD)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The ground reached from where one is already; or one more."""
    rooms = set()
    for each in finding.facts.count.left_out:
        if each.why is WhyNotCounted.NOT_FROM_GROUND:
            rooms.add(box_named(house, each.box).room)
    for room in sorted(rooms):
        yield done(("rooms", room, "from_grade"))
    for each in house.rooms:
        if each.kind in OUTSIDE and each.from_grade:
            yield added_receptacle(house, on_longest_wall(house, each.id), each.id)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles outdoors",
    tell=tell,
    facts=OutdoorFacts,
    fixes=_fixes,
)
def outdoor_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A house has a receptacle outdoors that a person reaches from the ground.

    One code requires one at the front and one at the back, not too high above grade, another one
    anywhere. A house with a kitchen and nothing recorded outdoors needs info.
    """
    book = site.rulebook
    if f"{NAME}.count" not in book:
        return
    rooms = []
    for room in site.house.rooms:
        if room.kind in OUTSIDE:
            rooms.append(room)
    if not rooms and not any(room.kind is RoomKind.KITCHEN for room in site.house.rooms):
        return
    if not book.value(f"{NAME}.front_and_back"):
        yield _side(this, site, rooms, None)
        return
    for side in (Side.FRONT, Side.BACK):
        yield _side(this, site, rooms, side)


def _side(this: Rule, site: HouseByCode, rooms: list[Room], side: Side | None) -> Finding:
    book = site.rulebook
    count, highest = book.value(f"{NAME}.count"), book.value(f"{NAME}.max_height_mm")
    here = _rooms_at(rooms, side)

    def doubt(box: Box) -> CountMissingFact | None:
        room = site.rooms[box.room]
        if side is not None and room.side is None:
            return CountMissingFact(CountMissing.SIDE, box.id, room.id)
        if room.from_grade:
            return None
        return CountMissingFact(CountMissing.FROM_GROUND, box.id, room.id)

    boxes = (box for room in here for box in site.boxes_in[room.id])
    found = _from_ground(site, provided(boxes, highest, doubt=doubt))
    verdict = found.verdict(count, count)
    missing = []
    if not any(side in (None, room.side) for room in here):
        missing.append(CountMissingFact(UNRECORDED[side]))
        if verdict is Verdict.NOT_TO_CODE:
            verdict = Verdict.INFO_NEEDED
    facts = OutdoorFacts(found.facts((count, count), highest, missing), side)
    spot = site.house_spot(OUTDOORS())
    if here:
        spot = site.room_spot(here[0])
    limits = tuple(book.limits_of(NAME))
    subject = "house"
    if side:
        subject = side.value
    return Finding(this, subject, verdict, spot, facts, limits)


def _rooms_at(rooms: list[Room], side: Side | None) -> list[Room]:
    """Those on a side of the house, and those whose side is not recorded yet."""
    here = []
    for room in rooms:
        if side is None or room.side in (side, None):
            here.append(room)
    return here


def _from_ground(site: HouseByCode, found: Provided) -> Provided:
    """Take out those that nobody reaches from the ground."""
    maybe = []
    out = list(found.out)
    for each in found.maybe:
        if site.rooms[each.room].from_grade is False:
            out.append(UncountedReceptacle(each.box, WhyNotCounted.NOT_FROM_GROUND))
        else:
            maybe.append(each)
    return replace(found, maybe=tuple(maybe), out=tuple(out))
