"""Floor areas of rooms as they were drawn, to hold an entered area against."""

import math

from inspections.checker.house import House
from inspections.checker.house.rooms import Room, RoomKind

NOT_LIVING = frozenset(
    {RoomKind.GARAGE, RoomKind.ATTIC, RoomKind.CRAWL_SPACE, RoomKind.PORCH, RoomKind.OUTDOORS}
)


def room_m2(room: Room) -> float:
    """The area inside a room's walls; 0 where they do not close."""
    if not room.closed or len(room.walls) < 3:
        return 0.0
    x = y = twice = 0.0
    heading = math.radians(room.heading_deg)
    for wall in room.walls:
        to_x = x + wall.length_mm * math.sin(heading)
        to_y = y + wall.length_mm * math.cos(heading)
        twice += x * to_y - to_x * y
        x, y = to_x, to_y
        heading += math.radians(wall.turn_deg)
    return abs(twice) / 2e6


def drawn_m2(house: House) -> float:
    """The area of every room that people live in, 0 unless each of them is drawn whole."""
    areas = []
    for room in house.rooms:
        if room.kind not in NOT_LIVING:
            areas.append(room_m2(room))
    if areas and all(areas):
        return sum(areas)
    return 0.0
