"""Places outdoors, for a house on which none is recorded yet."""

from inspections.checker.house import House
from inspections.checker.house.rooms import OpeningKind, Room, RoomKind, Side
from inspections.checker.rulebook import Rulebook

from . import proposal_messages as says
from .proposal import Found, Proposal, ProposalKind
from .wants import Wants

OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)
SIDES = ((Side.FRONT, "Outside, front"), (Side.BACK, "Outside, back"))


def propose_outdoors(house: House, _book: Rulebook, _wants: Wants) -> list[Found]:
    """The ground before and behind a house that has an outside door or a kitchen."""
    kinds = {room.kind for room in house.rooms}
    if kinds.intersection(OUTSIDE):
        return []
    if RoomKind.KITCHEN not in kinds and not _has_outside_door(house):
        return []
    first, taken = house.rooms[0], {room.id for room in house.rooms}
    proposals: list[Found] = []
    for side, name in SIDES:
        room_id = _free_id(f"outside-{side}", taken)
        room = Room(
            id=room_id,
            name=name,
            kind=RoomKind.OUTDOORS,
            side=side,
            area=first.area,
            storey=first.storey,
            from_grade=True,
        )
        proposals.append(
            Proposal(
                room_id,
                (),
                says.OUTDOORS(name=name),
                says.NOTHING_OUTDOORS(),
                ProposalKind.OUTDOORS,
                rooms=(room,),
            )
        )
    return proposals


def _has_outside_door(house: House) -> bool:
    for room in house.rooms:
        for wall in room.walls:
            if wall.outside and any(opening.kind in DOORS for opening in wall.openings):
                return True
    return False


def _free_id(stem: str, taken: set[str]) -> str:
    """The stem, with a number behind it where a room has it already."""
    name, number = stem, 0
    while name in taken:
        number += 1
        name = f"{stem}{number}"
    return name
