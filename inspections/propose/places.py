"""Where along a wall a box can stand: beside its studs, clear of what is in the way."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import count

from inspections.checker.geometry.plan import Point
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind, OnWall
from inspections.checker.house.rooms import Opening, OpeningKind, Room, Wall, WallKind

STUD_SPACING_MM = 406.4  # 16 in; common practice, no source
BESIDE_MM = 47.0  # a box's centre from a stud's: half of 38 and of 57; common practice, no source
FRAMING_MM = 104.0  # from an opening past its two studs to a box's centre; the same
HALF_BOX_MM = 29.0  # half the width of a one-gang box; the same
BOX_HEIGHT_MM = 95.0  # its height; the same
BETWEEN_MM = 10.0  # between places tried where no stud serves


def beside_studs(wall: Wall, spacing: float) -> Iterator[float]:
    """From the wall's left end, at studs counted from there, its last one and those of openings."""
    for stud in (*(spacing * n for n in range(int(wall.length_mm / spacing) + 1)), wall.length_mm):
        yield stud - BESIDE_MM
        yield stud + BESIDE_MM
    for opening in wall.openings:
        yield opening.at_mm - FRAMING_MM
        yield opening.at_mm + opening.width_mm + FRAMING_MM


def anywhere(wall: Wall) -> Iterator[float]:
    """At small steps, whatever is behind."""
    for n in range(int(wall.length_mm / BETWEEN_MM) + 1):
        yield BETWEEN_MM * n


def clear_of_studs(room: Room, wall: Wall, height: float, *, fixtures: bool) -> "Clear":
    """What tells whether a box at that height can stand at a place of the wall."""
    return Clear(wall, [*_taken(room, wall, height, fixtures=fixtures)])


class Clear:
    """A wall and the stretches of it in which no box can stand."""

    def __init__(self, wall: Wall, taken: list[tuple[float, float]]) -> None:
        self.wall = wall
        self.taken = taken

    def __call__(self, at: float) -> bool:
        if self.wall.kind is not WallKind.WALL:
            return False
        if not HALF_BOX_MM <= at <= self.wall.length_mm - HALF_BOX_MM:
            return False
        return not any(left < at < right for left, right in self.taken)


def _taken(
    room: Room, wall: Wall, height: float, *, fixtures: bool
) -> Iterator[tuple[float, float]]:
    for opening in wall.openings:
        if _in_the_way(opening, height):
            left, right = opening.at_mm, opening.at_mm + opening.width_mm
            yield left - FRAMING_MM, right + FRAMING_MM
    for fixture in (room.fixtures or ()) if fixtures else ():
        if fixture.wall == wall.id and fixture.at_mm is not None:
            right = fixture.at_mm + (fixture.width_mm or 0)
            yield fixture.at_mm - HALF_BOX_MM, right + HALF_BOX_MM


def _in_the_way(opening: Opening, height: float) -> bool:
    """Whether a box at that height would stand in an opening; one under a high sill does not."""
    high = opening.kind is OpeningKind.WINDOW and opening.sill_mm is not None
    return not (high and (opening.sill_mm or 0) >= height + FRAMING_MM)


def free_names(house: House, stem: str = "rec") -> Iterator[str]:
    """Names that nothing in the wiring has yet: a stem and a number."""
    taken = set()
    for box in house.boxes:
        taken.add(box.id)
    for panel in house.panels:
        taken.add(panel.id)
    for appliance in house.appliances:
        taken.add(appliance.id)
    return (name for n in count(1) if (name := f"{stem}-{n}") not in taken)


def wired_ends(house: House) -> set[str]:
    """Everything that a cable ends at."""
    wired: set[str] = set()
    for cable in house.cables:
        wired.update(cable.ends)
    return wired


def mean_point(points: Sequence[Point]) -> Point:
    """The middle of points: their mean east and their mean north."""
    xs, ys = zip(*points, strict=True)
    return sum(xs) / len(points), sum(ys) / len(points)


def unlike(boxes: Iterable[Box], wall: str, at: float, height: float) -> bool:
    """Whether no box stands where one at that place of a wall would."""
    for box in boxes:
        place = box.place
        if not isinstance(place, OnWall) or place.wall != wall:
            continue
        beside = abs(place.at_mm - at) < 2 * HALF_BOX_MM * box.gangs
        if beside and abs((place.height_mm or height) - height) < BOX_HEIGHT_MM:
            return False
    return True


def receptacle(room: Room, wall: str, at: float, height: float, name: str) -> Box:
    """A box with a receptacle in it, and nothing said that nobody knows."""
    place = OnWall(surface="wall", wall=wall, at_mm=round(at, 3), height_mm=height)
    return Box(id=name, room=room.id, place=place, devices=(Device(kind=DeviceKind.RECEPTACLE),))
