"""The floor line as geometry: a room's walls laid end to end, and the spaces between breaks.

Positions along the line are millimetres from the left end of the first wall, going clockwise.
When the walls close, the line is a ring, and a space may run past the end into the beginning.
"""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .house.rooms import Opening, OpeningKind, Room, Swing, Wall, WallKind

EPSILON = 0.01  # mm; lengths that came from inches carry rounding dust

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Breaks:
    """What parts a wall line by one code: kinds of opening, and two cases of their own."""

    kinds: frozenset[OpeningKind]
    door_leaf: bool = False
    """The wall that an open door leaf stands against is not usable."""
    window_to_floor: bool = False
    """A window that reaches the floor parts the line."""
    railing: bool = False
    """A railing is no wall to stand against."""

    def apply(self, opening: Opening) -> bool:
        """Whether the opening itself parts the line."""
        if opening.kind == OpeningKind.WINDOW:
            return self.window_to_floor and not opening.sill_mm
        return opening.kind in self.kinds


@dataclass(frozen=True, slots=True)
class Space:
    """An unbroken stretch of the line. `end` lies past the ring's length when it wraps."""

    start: float
    end: float
    wall: str
    """The wall on which it begins."""
    number: int
    """Its count among the spaces that begin on that wall, from 1."""
    ring: bool = False
    """It has no ends: the whole of a closed line without a break."""

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
        return name, position - start

    def spaces(self, breaks: Breaks, taken: Iterable[Interval] = ()) -> list[Space]:
        """The unbroken spaces, in order, with `taken` (counters) broken out as well."""
        cut = [*taken]
        for wall in self.room.walls:
            cut.extend(self._cuts(wall, breaks))
        return self._named(_complement(cut, self.length, self.room.closed))

    def _cuts(self, wall: Wall, breaks: Breaks) -> Iterable[Interval]:
        start = self.starts[wall.id]
        if wall.kind == WallKind.OPEN or (wall.kind == WallKind.RAILING and breaks.railing):
            yield start, start + wall.length_mm
            return
        for opening in wall.openings:
            left = start + opening.at_mm
            right = left + opening.width_mm
            if breaks.apply(opening):
                yield left, right
            if breaks.door_leaf and opening.swing in (Swing.LEFT, Swing.RIGHT):
                yield self._leaf(wall, opening)

    def _leaf(self, wall: Wall, opening: Opening) -> Interval:
        """The line that a fully opened leaf stands against.

        With less wall beside it than the leaf is wide, a door opens to the next wall: the
        rest of its own wall is lost as well.
        """
        start = self.starts[wall.id]
        leaf = opening.width_mm
        if opening.swing == Swing.LEFT:
            room_beside = opening.at_mm
            edge = start + opening.at_mm
            return (edge - leaf if room_beside >= leaf else edge - room_beside - leaf, edge)
        edge = start + opening.at_mm + leaf
        room_beside = wall.length_mm - opening.at_mm - leaf
        return (edge, edge + leaf if room_beside >= leaf else edge + room_beside + leaf)

    def _named(self, intervals: Sequence[Interval]) -> list[Space]:
        if intervals == [(0.0, self.length)] and self.room.closed:
            return [Space(0.0, self.length, self.room.walls[0].id, 1, ring=True)]
        counts: dict[str, int] = {}
        spaces = []
        for start, end in intervals:
            wall, _ = self.wall_at(start)
            counts[wall] = counts.get(wall, 0) + 1
            spaces.append(Space(start, end, wall, counts[wall]))
        return spaces


def _complement(cut: Iterable[Interval], length: float, ring: bool) -> list[Interval]:
    """What is left of a line or ring of that length once the cuts are taken out."""
    free: list[Interval] = []
    at = 0.0
    for start, end in _merged(_on_line(cut, length, ring)):
        if start - at > EPSILON:
            free.append((at, start))
        at = max(at, end)
    if length - at > EPSILON:
        free.append((at, length))
    joins = ring and len(free) > 1 and free[0][0] == 0.0 and free[-1][1] == length
    if joins:
        free = [*free[1:-1], (free[-1][0], length + free[0][1])]
    return free


def free_intervals(cut: Iterable[Interval], length: float) -> list[Interval]:
    """What is left of a straight line of that length once the cuts are taken out."""
    return _complement(cut, length, ring=False)


def _on_line(cut: Iterable[Interval], length: float, ring: bool) -> Iterable[Interval]:
    """The cuts within 0 and length; on a ring what hangs over comes back at the other end."""
    for start, end in cut:
        yield max(start, 0.0), min(end, length)
        if ring and start < 0:
            yield length + start, length
        if ring and end > length:
            yield 0.0, end - length


def _merged(intervals: Iterable[Interval]) -> list[Interval]:
    merged: list[Interval] = []
    for start, end in sorted(intervals):
        if merged and start <= merged[-1][1] + EPSILON:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        elif end > start:
            merged.append((start, end))
    return merged


def uncovered(space: Space, points: Sequence[float], reach: float) -> list[Interval]:
    """The stretches of a space farther along the line than `reach` from every point.

    Points are positions within the space. A ring is measured round both ways.
    """
    if not points:
        return [(space.start, space.end)]
    ordered = sorted(points)
    gaps = []
    if space.ring:
        ordered.append(ordered[0] + space.length)
    else:
        gaps = [(space.start, ordered[0] - reach), (ordered[-1] + reach, space.end)]
    gaps += [(a + reach, b - reach) for a, b in itertools.pairwise(ordered)]
    return sorted(gap for gap in gaps if gap[1] - gap[0] > EPSILON)


def within(space: Space, position: float, line_length: float) -> float | None:
    """The position as the space counts it (past the ring's length when it wraps), or None."""
    for candidate in (position, position + line_length):
        if space.start - EPSILON <= candidate <= space.end + EPSILON:
            return candidate
    return None
