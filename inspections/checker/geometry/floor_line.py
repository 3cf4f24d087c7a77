"""The floor line as geometry: a room's walls laid end to end, and the spaces between breaks.

Positions along the line are millimetres from the left end of the first wall, going clockwise.
When the walls close, the line is a ring, and a space may run past the end into the beginning.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import NamedTuple

from inspections.checker.geometry.intervals import EPSILON, Interval, complement
from inspections.checker.house.rooms import Opening, OpeningKind, Room, Swing, Wall, WallKind


class Doubt(NamedTuple):
    """A stretch that parts the line or does not: a fact about it is missing."""

    start: float
    end: float
    missing: str
    """What is missing: `swing`, `sill` or `behind`."""
    where: str
    """The wall or fixture that it is about."""


@dataclass(frozen=True, slots=True)
class Breaks:
    """What parts a wall line by one code: kinds of opening, and cases of their own."""

    kinds: frozenset[OpeningKind]
    door_leaf: bool = False
    """The wall that an open door leaf stands against is not usable."""
    window_to_floor: bool = False
    """A window that reaches the floor parts the line."""
    railing: bool = False
    """A railing is no wall to stand against."""

    def apply(self, opening: Opening) -> bool | None:
        """Whether the opening itself parts the line; None when its sill is missing."""
        if opening.kind is not OpeningKind.WINDOW:
            return opening.kind in self.kinds
        if not self.window_to_floor:
            return False
        if opening.sill_mm is None:
            return None
        return opening.sill_mm == 0


@dataclass(frozen=True, slots=True)
class Space:
    """An unbroken stretch of the line. `end` lies past the ring's length when it wraps."""

    start: float
    end: float
    wall: str
    """The wall on which it begins."""
    number: int = 1
    """Its count among the spaces that begin on that wall, from 1."""
    ring: bool = False
    """It has no ends: the whole of a closed line without a break."""
    doubts: tuple[Doubt, ...] = ()
    """Stretches of it that may turn out to break it."""

    @property
    def length(self) -> float:
        """Its length in mm, round corners."""
        return self.end - self.start


class FloorLine:
    """A room's walls laid end to end."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self.starts: dict[str, float] = {}
        at = 0.0
        for wall in room.walls:
            self.starts[wall.id] = at
            at += wall.length_mm
        self.length = at

    def position(self, wall: str, at_mm: float) -> float:
        """Where a point of a wall lies on the line."""
        return self.starts[wall] + at_mm

    def wall_at(self, position: float) -> tuple[str, float]:
        """The wall at a position, and the distance from its left end."""
        position %= self.length
        name, start = "", 0.0
        for wall, begins in self.starts.items():
            if begins > position + EPSILON:
                break
            name, start = wall, begins
        return name, max(position - start, 0.0)

    def within(self, space: Space, position: float) -> float | None:
        """The position as the space counts it (past the ring's end when it wraps), or None."""
        turns = [0.0]
        if self.room.closed:
            turns += [self.length, -self.length]
        for turn in turns:
            if space.start - EPSILON <= position + turn <= space.end + EPSILON:
                return position + turn
        return None

    def corners(self) -> list[tuple[float, float]]:
        """The left end of each wall on the plan, in mm east and north."""
        x, y, heading = self.room.x_mm, self.room.y_mm, self.room.heading_deg
        corners = []
        for wall in self.room.walls:
            corners.append((x, y))
            x += wall.length_mm * sin(radians(heading))
            y += wall.length_mm * cos(radians(heading))
            heading += wall.turn_deg
        return corners

    @property
    def area_m2(self) -> float:
        """The floor area within the walls, in m²; open walls are closed by a straight line."""
        corners = self.corners()
        following = [*corners[1:], corners[0]]
        twice = sum(x * v - u * y for (x, y), (u, v) in zip(corners, following, strict=True))
        return abs(twice) / 2e6

    def spaces(self, breaks: Breaks, taken: Iterable[Interval] = ()) -> list[Space]:
        """The unbroken spaces, in order, with `taken` (counters) broken out as well."""
        cuts, doubts = [*taken], []
        for wall in self.room.walls:
            for start, end, missing in self._breaks(wall, breaks):
                if missing:
                    doubts.append(Doubt(start, end, missing, wall.id))
                else:
                    cuts.append((start, end))
        spaces = self._named(complement(cuts, self.length, self.room.closed))
        if doubts:
            doubted: list[Space] = []
            for space in spaces:
                doubted.append(_with_doubts(space, doubts, self.length))
            return doubted
        return spaces

    def _breaks(self, wall: Wall, breaks: Breaks) -> Iterator[tuple[float, float, str]]:
        """What parts the line at a wall: from, to, and what is missing to be sure of it."""
        start = self.starts[wall.id]
        if wall.kind is WallKind.OPEN or (wall.kind is WallKind.RAILING and breaks.railing):
            yield start, start + wall.length_mm, ""
            return
        for opening in wall.openings:
            left = start + opening.at_mm
            applies = breaks.apply(opening)
            if applies is not False:
                yield left, left + opening.width_mm, "" if applies else "sill"
            if breaks.door_leaf and opening.kind is OpeningKind.DOOR:
                yield from self._leaf(wall, opening)

    def _leaf(self, wall: Wall, opening: Opening) -> Iterator[tuple[float, float, str]]:
        """The line that a fully opened leaf stands against, on the side where it rests.

        With less wall beside it than the leaf is wide, a door opens to the next wall: the
        rest of its own wall is lost as well.
        """
        start, leaf = self.starts[wall.id], opening.width_mm
        if opening.swing is None:
            sides, missing = [Swing.LEFT, Swing.RIGHT], "swing"
        else:
            sides, missing = [opening.swing], ""
        if Swing.LEFT in sides:
            beside, edge = opening.at_mm, start + opening.at_mm
            yield edge - leaf - (beside if beside < leaf else 0), edge, missing
        if Swing.RIGHT in sides:
            edge = start + opening.at_mm + leaf
            beside = start + wall.length_mm - edge
            yield edge, edge + leaf + (beside if beside < leaf else 0), missing

    def _named(self, intervals: Sequence[Interval]) -> list[Space]:
        if intervals == [(0.0, self.length)] and self.room.closed:
            return [Space(0.0, self.length, self.room.walls[0].id, ring=True)]
        counts: dict[str, int] = {}
        spaces = []
        for start, end in intervals:
            wall, _ = self.wall_at(start)
            counts[wall] = counts.get(wall, 0) + 1
            spaces.append(Space(start, end, wall, counts[wall]))
        return spaces


def _with_doubts(space: Space, doubts: Iterable[Doubt], length: float) -> Space:
    doubts_here = []
    for doubt in doubts:
        for shift in (-length, 0.0, length):
            start = max(doubt.start + shift, space.start)
            end = min(doubt.end + shift, space.end)
            if end - start > EPSILON:
                doubts_here.append(doubt._replace(start=start, end=end))
    if doubts_here:
        return replace(space, doubts=tuple(sorted(doubts_here)))
    return space
