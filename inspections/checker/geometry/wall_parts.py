"""Parts of walls: what goes on round a corner is a part of each of its walls."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from inspections.checker.house.rooms import Counter, Room

from .intervals import EPSILON


class WallPart(NamedTuple):
    """A part of one wall, from its left end."""

    wall: str
    at_mm: float
    width_mm: float


def walls_of(room: Room) -> tuple[WallPart, ...]:
    """The walls of a room from left to right, each whole."""
    return tuple(WallPart(wall.id, 0.0, wall.length_mm) for wall in room.walls)


def walls_behind(counter: Counter) -> tuple[WallPart, ...]:
    """What a counter takes of the walls behind it, from left to right."""
    return tuple(WallPart(each.wall, each.at_mm, each.width_mm) for each in counter.along)


def along_walls(
    walls: Iterable[tuple[str, float, float]], wall: str, at_mm: float, width_mm: float
) -> list[WallPart]:
    """A length that starts on a wall, cut where one wall ends and the next begins.

    The first wall follows the last. Empty where it starts on none of them.
    """
    line = [WallPart(*each) for each in walls]
    index = _first(line, wall, at_mm)
    if index is None:
        return []
    parts: list[WallPart] = []
    at, rest = at_mm, width_mm
    for turn in range(len(line) + 1):
        here = line[(index + turn) % len(line)]
        if turn:
            at = here.at_mm
        width = min(rest, here.at_mm + here.width_mm - at)
        if width > EPSILON:
            parts.append(WallPart(here.wall, at, width))
        rest -= width
        if rest <= EPSILON:
            break
    return parts


def _first(walls: Sequence[WallPart], wall: str, at_mm: float) -> int | None:
    for index, each in enumerate(walls):
        end = each.at_mm + each.width_mm
        if each.wall == wall and each.at_mm - EPSILON <= at_mm <= end + EPSILON:
            return index
    return None
