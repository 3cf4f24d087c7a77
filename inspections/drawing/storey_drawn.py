"""What a plan draws of one storey: its rooms, their floors, and the sheet that holds them."""

from collections.abc import Sequence

from inspections.checker.geometry.plan import point_within
from inspections.checker.house import House
from inspections.checker.house.rooms import Room

from .geometry import Placing, Point, bounds

MARGIN = 250.0  # mm of sheet round what is drawn
DEPTH_OUTDOORS = 1300.0  # mm of ground drawn before walls that do not close round a room


class StoreyDrawn:
    """One storey on its sheet."""

    def __init__(self, house: House, storey: str) -> None:
        self.house = house
        self.id = storey
        self.name = next(each.name for each in house.storeys if each.id == storey)
        self.placing = Placing(house)
        self.rooms: list[Room] = []
        for room in house.rooms:
            if room.storey == storey and room.walls:
                self.rooms.append(room)
        self.shown = frozenset(room.id for room in self.rooms)
        self.floors: dict[str, tuple[Point, ...]] = {}
        """The corners of each room's floor."""
        for room in self.rooms:
            if room.closed:
                sides = self.placing.sides[room.id].values()
                self.floors[room.id] = tuple(side.left for side in sides)
        for room in self.rooms:
            if not room.closed:
                self.floors[room.id] = self._ground(room)
        every = [corner for corners in self.floors.values() for corner in corners]
        self.box = bounds(every, MARGIN)
        """Left, top, width and height of the sheet."""

    def _ground(self, room: Room) -> tuple[Point, ...]:
        """A strip along walls that close round no room, on the side where there is none."""
        sides = list(self.placing.sides[room.id].values())
        first, last = sides[0], sides[-1]
        corners = [*(side.left for side in sides), last.at(last.length)]
        depth = DEPTH_OUTDOORS
        middle = first.at(first.length / 2, depth)
        if any(point_within(middle, floor) for floor in self.floors.values()):
            depth = -depth
        return (*corners, last.at(last.length, depth), first.at(0, depth))


def svg_path(corners: Sequence[Point]) -> str:
    """A path through points, in whole mm, as short as it can be written."""
    (x, y), *rest = [(round(x), round(y)) for x, y in corners]
    path = f"M{x} {y}"
    for next_x, next_y in rest:
        if next_y == y:
            path += f"H{next_x}"
        elif next_x == x:
            path += f"V{next_y}"
        else:
            path += f"L{next_x} {next_y}"
        x, y = next_x, next_y
    return path
