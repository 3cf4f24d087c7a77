"""Places outdoors, for a house on which nobody recorded any."""

from inspections.checker.house import House
from inspections.checker.house.rooms import OpeningKind, Room, RoomKind, Side
from inspections.checker.rulebook import Rulebook

from .proposal import Found, Proposal, ProposalKind
from .wants import Wants

OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)
SIDES = ((Side.FRONT, "Outside, front"), (Side.BACK, "Outside, back"))


def propose_outdoors(house: House, _book: Rulebook, _wants: Wants) -> list[Found]:
    """The ground before and behind a house that has an outside door or a kitchen."""
    if any(room.kind in OUTSIDE for room in house.rooms) or not house.rooms:
        return []
    doors = any(
        opening.kind in DOORS
        for room in house.rooms
        for wall in room.walls
        if wall.outside
        for opening in wall.openings
    )
    if not doors and not any(room.kind is RoomKind.KITCHEN for room in house.rooms):
        return []
    first, taken = house.rooms[0], {room.id for room in house.rooms}
    made: list[Found] = []
    for side, name in SIDES:
        room_id = next(n for i in range(99) if (n := f"outside-{side}{i or ''}") not in taken)
        room = Room(
            id=room_id,
            name=name,
            kind=RoomKind.OUTDOORS,
            side=side,
            area=first.area,
            storey=first.storey,
            from_grade=True,
        )
        made.append(
            Proposal(
                room_id,
                (),
                f"a place to record what is outdoors: {name}",
                "nothing outdoors is recorded, and the code asks for receptacles and lights there",
                ProposalKind.OUTDOORS,
                rooms=(room,),
            )
        )
    return made
