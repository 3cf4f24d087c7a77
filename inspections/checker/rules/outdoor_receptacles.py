"""Receptacles outdoors that a person reaches from the ground."""

from collections.abc import Iterator

from inspections.checker.asking.required_receptacles import (
    Provided,
    count_data,
    provided,
    tell_count,
)

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.boxes import Box
from ..house.rooms import Room, RoomKind, Side
from ..site import HouseByCode
from ..spot import OUTDOORS

NAME = "outdoor-receptacles"
OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)


def tell(finding: Finding) -> FindingWords:
    """A side of the house, or all of it, and its receptacles."""
    side = finding.facts["side"]
    place = "house's outside"
    if side:
        place = f"{side} of the house"
    return tell_count(finding, place, f"Add a receptacle outdoors, {side or 'at the ground'}.")


@rule(NAME, topic="receptacles", title="Receptacles outdoors", tell=tell)
def outdoor_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A house has a receptacle outdoors that a person reaches from the ground.

    One code asks for one at the front and one at the back, not too high above grade, another
    for one anywhere. A house with a kitchen and nothing recorded outdoors is unknown.
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

    def doubt(box: Box) -> str | None:
        room = site.rooms[box.room]
        if side is not None and room.side is None:
            return f"which side of the house {room.name} is on"
        if room.from_grade:
            return None
        return f"whether {room.name} is reached from the ground"

    boxes = (box for room in here for box in site.boxes_in[room.id])
    found = _from_ground(site, provided(boxes, highest, doubt=doubt))
    verdict = found.verdict(count, count)
    name, where = "", "outside"
    if side:
        name = where = side.value
    missing = []
    if not any(side in (None, room.side) for room in here):
        missing.append(f"the {where} of the house")
        if verdict is Verdict.SHORT:
            verdict = Verdict.UNKNOWN
    data = count_data(found, (count, count), highest, *missing)
    data["side"] = name
    spot = site.house_spot(OUTDOORS())
    if here:
        spot = site.room_spot(here[0])
    limits = tuple(book.limits_of(NAME))
    return Finding(this, name or "house", verdict, spot, data, limits)


def _rooms_at(rooms: list[Room], side: Side | None) -> list[Room]:
    """Those on a side of the house, and those of which nobody recorded the side."""
    here = []
    for room in rooms:
        if side is None or room.side in (side, None):
            here.append(room)
    return here


def _from_ground(site: HouseByCode, found: Provided) -> Provided:
    """Take out those that nobody reaches from the ground."""
    above = set()
    for _, box in found.maybe:
        if site.rooms[site.boxes[box].room].from_grade is False:
            above.add(box)
    maybe = []
    for each in found.maybe:
        if each[1] not in above:
            maybe.append(each)
    out = list(found.out)
    for box in sorted(above):
        out.append((box, "grade", None))
    return found._replace(maybe=maybe, out=out)
