"""Distances on the plan of a room: from a box to a fixture, as a tape lies flat."""

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house.boxes import Box, OnCeiling, OnFloor, OnWall
from inspections.checker.house.fixtures import Fixture
from inspections.checker.house.rooms import Room, WallKind

Point = tuple[float, float]


class RoomPlan:
    """A room seen from above. Points are mm east and north."""

    def __init__(self, room: Room, line: FloorLine) -> None:
        self.room = room
        self._corners = dict(zip(line.starts, line.corners(), strict=True))
        self._headings: dict[str, float] = {}
        heading = room.heading_deg
        for wall in room.walls:
            self._headings[wall.id] = heading
            heading += wall.turn_deg

    def at(self, wall: str, along: float, out: float = 0.0) -> Point:
        """The point so far along a wall from its left end, and so far out from it."""
        x, y = self._corners[wall]
        heading = radians(self._headings[wall])
        east, north = sin(heading), cos(heading)
        return x + along * east + out * north, y + along * north - out * east

    def of(self, box: Box) -> Point | None:
        """Where a box is; None when it is not on a wall, floor or ceiling of known place."""
        place = box.place
        if isinstance(place, OnWall):
            return self.at(place.wall, place.at_mm)
        if isinstance(place, OnFloor) and place.from_wall_mm is not None:
            return self.at(place.wall, place.at_mm, place.from_wall_mm)
        if isinstance(place, OnCeiling) and place.x_mm is not None and place.y_mm is not None:
            return place.x_mm, place.y_mm
        return None

    def apart(self, point: Point, fixture: Fixture) -> float | None:
        """The distance from a point to the edge of a fixture, 0 within it; None when a fact of
        the fixture's place is missing."""
        nearest = self._nearest(point, fixture)
        if nearest is None:
            return None
        return hypot(point[0] - nearest[0], point[1] - nearest[1])

    def walled_off(self, point: Point, fixture: Fixture) -> bool:
        """Whether a wall of the room stands between a point and a fixture of known place."""
        nearest = self._nearest(point, fixture)
        if nearest is None:
            return False
        for wall in self.room.walls:
            left, right = self.at(wall.id, 0.0), self.at(wall.id, wall.length_mm)
            if wall.kind is WallKind.WALL and _crosses(point, nearest, left, right):
                return True
        return False

    def farthest(self, fixture: Fixture) -> float | None:
        """The distance from a fixture to the corner of the room farthest from it."""
        known = []
        for wall in self.room.walls:
            apart = self.apart(self.at(wall.id, 0.0), fixture)
            if apart is not None:
                known.append(apart)
        if known:
            return max(known)
        return None

    def _nearest(self, point: Point, fixture: Fixture) -> Point | None:
        wall, at, width, depth = fixture.wall, fixture.at_mm, fixture.width_mm, fixture.depth_mm
        if wall is None or at is None or width is None or depth is None:
            return None
        x, y = self._corners[wall]
        heading = radians(self._headings[wall])
        east, north = point[0] - x, point[1] - y
        along = east * sin(heading) + north * cos(heading)
        out = east * cos(heading) - north * sin(heading)
        back = fixture.from_wall_mm
        return self.at(wall, min(max(along, at), at + width), min(max(out, back), back + depth))


def point_within(point: Point, corners: Sequence[Point]) -> bool:
    """Whether a point lies within a floor of these corners."""
    x, y = point
    within = False
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        if (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax:
            within = not within
    return within


def _crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the stretches a-b and c-d cross, not counting a touch."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    """Which side of a-b the point c lies on; 0 within a hair of the line."""
    cross = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    away = cross / (hypot(b[0] - a[0], b[1] - a[1]) or 1.0)
    if abs(away) <= EPSILON:
        return 0.0
    return away


def missing_of(fixture: Fixture) -> list[str]:
    """Which facts of a fixture's place are missing."""
    facts = (
        ("wall", fixture.wall),
        ("place", fixture.at_mm),
        ("width", fixture.width_mm),
        ("depth", fixture.depth_mm),
    )
    names: list[str] = []
    for name, value in facts:
        if value is None:
            names.append(name)
    return names
