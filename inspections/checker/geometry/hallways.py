"""A hallway's shape: how long it is along its middle, and how far its walls are from a point."""

from collections.abc import Sequence
from math import cos, radians, sin, sqrt

from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.intervals import complement
from inspections.checker.house.rooms import OpeningKind, Room, WallKind

SQUARE = (89.0, 91.0)  # degrees; a corner as framers build it


class Hallway:
    """A hallway by its walls."""

    def __init__(self, room: Room, line: FloorLine) -> None:
        self.room = room
        self.line = line

    def lengths(self) -> tuple[float, float]:
        """The least and the most that its middle line can be long, in mm.

        They are equal for four square walls. Any other shape is at least as long as its
        longest wall and at most half of the way round.
        """
        lengths = []
        for wall in self.room.walls:
            lengths.append(wall.length_mm)
        longest = max(lengths)
        if not self.room.closed:
            return longest, 1e6
        square = True
        for wall in self.room.walls:
            if not (SQUARE[0] <= wall.turn_deg <= SQUARE[1]):
                square = False
                break
        if len(self.room.walls) == 4 and square:
            return longest, longest
        return longest, max(longest, self.line.length / 2)

    def convex(self) -> bool:
        """Whether a straight line joins any two points of it without leaving it."""
        return self.room.closed and all(wall.turn_deg >= 0 for wall in self.room.walls)

    def opens_up(self) -> bool:
        """Whether a cord may come in from the next room without passing a door."""
        for wall in self.room.walls:
            if wall.kind is WallKind.OPEN or any(
                opening.kind is OpeningKind.OPENING for opening in wall.openings
            ):
                return True
        return False

    def farther_than(
        self, reach: float, points: Sequence[tuple[str, float]]
    ) -> list[tuple[str, float, float]]:
        """Stretches of wall farther than `reach`, as the crow flies, from every point.

        A point is a wall and a distance from its left end. Each stretch is a wall, from, to.
        """
        corners = dict(zip(self.line.starts, self.line.corners(), strict=True))
        headings = self._headings()
        spots = []
        for name, at in points:
            spots.append(_along(corners[name], headings[name], at))
        found = []
        for wall in self.room.walls:
            cuts = []
            for spot in spots:
                if near := _near(corners[wall.id], headings[wall.id], spot, reach):
                    cuts.append(near)
            for start, end in complement(cuts, wall.length_mm):
                found.append((wall.id, round(start, 3), round(end, 3)))
        return found

    def _headings(self) -> dict[str, float]:
        heading, found = self.room.heading_deg, {}
        for wall in self.room.walls:
            found[wall.id] = heading
            heading += wall.turn_deg
        return found


def _along(corner: tuple[float, float], heading: float, at: float) -> tuple[float, float]:
    return corner[0] + at * sin(radians(heading)), corner[1] + at * cos(radians(heading))


def _near(
    corner: tuple[float, float], heading: float, spot: tuple[float, float], reach: float
) -> tuple[float, float] | None:
    """The stretch of a wall within reach of a spot, measured from the wall's left end."""
    east, north = spot[0] - corner[0], spot[1] - corner[1]
    along = east * sin(radians(heading)) + north * cos(radians(heading))
    aside = east * cos(radians(heading)) - north * sin(radians(heading))
    if abs(aside) > reach:
        return None
    half = sqrt(reach * reach - aside * aside)
    return along - half, along + half
