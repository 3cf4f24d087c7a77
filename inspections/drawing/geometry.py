"""Where the parts of a house lie on the drawing: mm east, and mm down the sheet.

A house counts north upwards; a sheet counts downwards, so y changes its sign here and only here.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from inspections.checker.house import House
from inspections.checker.house.boxes import Box, OnCeiling, OnCounter, OnFloor, OnWall
from inspections.checker.house.fixtures import Fixture
from inspections.checker.house.power import Appliance, Panel
from inspections.checker.house.rooms import Room, Storey

Point = tuple[float, float]
LOOSE_STEP = 330.0  # mm between what is drawn without a recorded place
CLEAR = 400.0  # mm from what has one
COUNTER_DEPTH = 600.0  # mm, drawn where it is not recorded yet
OFF_WALL = 190.0  # mm, from the wall to the middle of a symbol


@dataclass(frozen=True, slots=True)
class SheetWall:
    """One wall on the sheet: its left end as seen from inside, and which way it runs."""

    left: Point
    along: Point
    inward: Point
    length: float

    def at(self, distance: float, off: float = 0.0) -> Point:
        """The point so far along the wall, and so far off it into the room."""
        x, y = self.left
        return (
            x + self.along[0] * distance + self.inward[0] * off,
            y + self.along[1] * distance + self.inward[1] * off,
        )


def wall_sides(room: Room) -> dict[str, SheetWall]:
    """The walls of a room on the sheet, by id."""
    x, y, heading = room.x_mm, -room.y_mm, room.heading_deg
    found = {}
    for wall in room.walls:
        along = (sin(radians(heading)), -cos(radians(heading)))
        inward = (-along[1], along[0])  # a quarter turn clockwise: walls run clockwise
        found[wall.id] = SheetWall((x, y), along, inward, wall.length_mm)
        x, y = x + along[0] * wall.length_mm, y + along[1] * wall.length_mm
        heading += wall.turn_deg
    return found


def middle(room: Room) -> Point:
    """The middle of a room's corners."""
    x = y = 0.0
    sides = wall_sides(room).values()
    for side in sides:
        x += side.left[0]
        y += side.left[1]
    count = max(len(sides), 1)
    return x / count, y / count


def fixture_middle(sides: Mapping[str, SheetWall], fixture: Fixture) -> Point | None:
    """The middle of a fixture; None where its place along a wall is not recorded."""
    side = sides.get(fixture.wall or "")
    if side is None or fixture.at_mm is None:
        return None
    along = fixture.at_mm + (fixture.width_mm or 0.0) / 2
    off = fixture.from_wall_mm + (fixture.depth_mm or 2 * OFF_WALL) / 2
    return side.at(along, off)


class Placing:
    """Where each box, panel and appliance of a house is drawn.

    What has no recorded place is drawn somewhere in its room, and is not among `boxes`.
    """

    def __init__(self, house: House) -> None:
        self.rooms = {room.id: room for room in house.rooms}
        self.sides = {room.id: wall_sides(room) for room in house.rooms if room.walls}
        self.counters = {counter.id: counter for counter in house.counters}
        self._spread: dict[str, int] = {}
        self._taken: dict[str, list[Point]] = {}
        self.boxes: dict[str, Point] = {}
        """The boxes whose place is recorded, by id."""
        self.points: dict[str, Point] = {}
        """Whatever is drawn, by the id of its node."""
        for room in house.rooms:
            for fixture in room.fixtures or ():
                point = fixture_middle(self.sides.get(room.id, {}), fixture)
                if point is not None:
                    self._taken.setdefault(room.id, []).append(point)
        for box in house.boxes:
            point = self._recorded(box)
            if point is not None:
                self.boxes[box.id] = self.points[box.id] = point
                self._taken.setdefault(box.room, []).append(point)
        for box in house.boxes:
            if box.room in self.sides and box.id not in self.points:
                self.points[box.id] = self._loose(box.room)
        nodes: list[Panel | Appliance] = [*house.panels, *house.appliances]
        for node in nodes:
            if node.room in self.sides:
                self.points[node.id] = self._loose(node.room)

    def _recorded(self, box: Box) -> Point | None:
        """Where a box is by what is recorded of it; None when that does not say."""
        if box.room not in self.sides:
            return None
        place, walls = box.place, self.sides[box.room]
        if isinstance(place, OnWall):
            return walls[place.wall].at(place.at_mm, OFF_WALL)
        if isinstance(place, OnFloor):
            return walls[place.wall].at(place.at_mm, place.from_wall_mm or 2 * OFF_WALL)
        if isinstance(place, OnCeiling) and place.x_mm is not None and place.y_mm is not None:
            return place.x_mm, -place.y_mm
        if isinstance(place, OnCounter) and place.at_mm is not None:
            return self._along_counter(place.counter, place.at_mm)
        return None

    def _along_counter(self, counter: str, at: float) -> Point | None:
        """So far along a counter that stands at walls; an island has no place in a house file."""
        found = self.counters[counter]
        for stretch in found.along:
            if at <= stretch.width_mm:
                return self.sides[found.room][stretch.wall].at(stretch.at_mm + at, OFF_WALL)
            at -= stretch.width_mm
        return None

    def _loose(self, room: str) -> Point:
        """Somewhere round the middle of a room, clear of what has a place, each to its own spot."""
        while True:
            point = self._next_spot(room)
            if all(hypot(point[0] - x, point[1] - y) > CLEAR for x, y in self._taken.get(room, ())):
                return point

    def _next_spot(self, room: str) -> Point:
        number = self._spread.get(room, 0)
        self._spread[room] = number + 1
        x, y = middle(self.rooms[room])
        ring, turn = number // 6 + (number > 0), number % 6
        off = ring * LOOSE_STEP
        return x + off * sin(radians(60 * turn)), y + off * cos(radians(60 * turn))


def bounds(points: Iterable[Point], margin: float) -> tuple[float, float, float, float]:
    """Left, top, width and height of a sheet that holds the points."""
    xs, ys = zip(*points, strict=True)
    left, top = min(xs) - margin, min(ys) - margin
    return left, top, max(xs) + margin - left, max(ys) + margin - top


def storeys_drawn(house: House) -> list[Storey]:
    """The storeys that have a room with walls, the lowest first."""
    storeys: list[Storey] = []
    for storey in house.storeys:
        if rooms_drawn(house, storey.id):
            storeys.append(storey)
    return storeys


def rooms_drawn(house: House, storey: str) -> list[Room]:
    """The rooms of a storey that have walls."""
    rooms: list[Room] = []
    for room in house.rooms:
        if room.storey == storey and room.walls:
            rooms.append(room)
    return rooms
