"""Some rooms of a house by themselves, to try what a box more would make of them."""

from collections.abc import Collection, Iterable, Iterator
from math import hypot
from typing import NamedTuple

from inspections.checker.finding import Finding, Verdict, rules
from inspections.checker.geometry.plan import Point, RoomPlan, point_within
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, OnCeiling, OnWall, Place
from inspections.checker.house.rooms import Room, Wall
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import DOORWAYS, HouseByCode

from .places import anywhere, beside_studs, clear_of_studs, mean_point, unlike

GRID_MM = 250.0  # between places tried on a ceiling
OFF_WALL_MM = (
    300.0  # the least from a wall to what hangs from a ceiling; common practice, no source
)
APART_MM = 400.0  # between two boxes in a ceiling; the same


class BoxSpot(NamedTuple):
    """A place on a wall for a box, and whether no stud serves it."""

    wall: str
    at: float
    blocking: bool


class Trial:
    """A house of the rooms named and of what stands in them, and nothing of its cables."""

    def __init__(self, house: House, book: Rulebook, rooms: Collection[str]) -> None:
        kept = {}
        for name in ("counters", "panels", "appliances", "boxes"):
            kept[name] = tuple(part for part in getattr(house, name) if part.room in rooms)
        meetings = ("cables", "holes", "notches", "fastenings", "bundles", "separations")
        emptied = dict.fromkeys((*meetings, "crossings", "heat_gaps", "circuits"), ())
        chosen = tuple(room for room in house.rooms if room.id in rooms)
        self.book = book
        self.house = house.model_copy(update={"rooms": chosen, **kept, **emptied})
        self.site = HouseByCode(self.house, book)

    def verdicts(self, names: Collection[str], boxes: Iterable[Box] = ()) -> dict[str, Finding]:
        """What the rules named say, with some boxes more, by the key of the finding."""
        added = tuple(boxes)
        site = self.site
        if added:
            house = self.house.model_copy(update={"boxes": (*self.house.boxes, *added)})
            site = HouseByCode(house, self.book)
        by_key: dict[str, Finding] = {}
        for name in names:
            for finding in rules()[name].check(site):
                by_key[finding.key] = finding
        return by_key

    def short(self, names: Collection[str], boxes: Iterable[Box] = ()) -> frozenset[str]:
        """The findings of the rules named that are short, with some boxes more."""
        keys = []
        for key, finding in self.verdicts(names, boxes).items():
            if finding.verdict is Verdict.NOT_TO_CODE:
                keys.append(key)
        return frozenset(keys)


def spots(
    room: Room, boxes: Iterable[Box], height: float, spacing: float, *, behind: bool = False
) -> Iterator[BoxSpot]:
    """Where a box can stand on the walls of a room at a height: beside studs, then anywhere.

    `behind` lets it stand behind a fixture, as one for that appliance does.
    """
    there = list(boxes)
    for places, blocking in ((lambda wall: beside_studs(wall, spacing), False), (anywhere, True)):
        for wall in room.walls:
            free = clear_of_studs(room, wall, height, fixtures=not behind)
            for at in places(wall):
                if free(at) and unlike(there, wall.id, at, height):
                    yield BoxSpot(wall.id, at, blocking)


def doorways(room: Room) -> Iterator[tuple[Wall, float, float]]:
    """Each doorway of a room: its wall, and its left and right side."""
    for wall in room.walls:
        for opening in wall.openings:
            if opening.kind in DOORWAYS:
                yield wall, opening.at_mm, opening.at_mm + opening.width_mm


def on_wall(spot: BoxSpot, height: float) -> OnWall:
    """The place of a box at a spot."""
    return OnWall(surface="wall", wall=spot.wall, at_mm=round(spot.at, 3), height_mm=height)


def box_of(name: str, room: Room, place: Place, *devices: Device) -> Box:
    """A box with devices in it, and nothing said that nobody knows."""
    return Box(id=name, room=room.id, place=place, devices=devices)


def ceiling_points(room: Room, plan: RoomPlan, boxes: Iterable[Box]) -> list[Point]:
    """Points of a room's ceiling clear of its walls and of what is there, the middle ones first."""
    corners = []
    for wall in room.walls:
        corners.append(plan.at(wall.id, 0.0))
    there = _in_ceilings(boxes)
    middle = _middle(corners)
    good: list[Point] = []
    clear_of_walls: list[Point] = []
    for point in (middle, *_grid(corners)):
        if point_within(point, corners) and _apart(point, there):
            good.append(point)
            if off_walls(point, corners) >= OFF_WALL_MM:
                clear_of_walls.append(point)
    return sorted(
        clear_of_walls or good, key=lambda p: (hypot(p[0] - middle[0], p[1] - middle[1]), p)
    )


def _in_ceilings(boxes: Iterable[Box]) -> list[Point]:
    """Where boxes are that hang in a ceiling."""
    there: list[Point] = []
    for box in boxes:
        if isinstance(box.place, OnCeiling) and box.place.x_mm is not None:
            there.append((box.place.x_mm, box.place.y_mm or 0.0))
    return there


def _grid(corners: list[Point]) -> Iterator[Point]:
    """Points at even steps over the rectangle round the corners."""
    xs, ys = zip(*corners, strict=True)
    left, low = min(xs), min(ys)
    for i in range(int((max(xs) - left) / GRID_MM)):
        for j in range(int((max(ys) - low) / GRID_MM)):
            yield left + GRID_MM * (i + 0.5), low + GRID_MM * (j + 0.5)


def _apart(point: Point, there: list[Point]) -> bool:
    """Whether it is far enough from every point that is taken."""
    for x, y in there:
        if hypot(point[0] - x, point[1] - y) < APART_MM:
            return False
    return True


def in_ceiling(point: Point) -> OnCeiling:
    """The place of a box in a ceiling."""
    return OnCeiling(surface="ceiling", x_mm=round(point[0], 1), y_mm=round(point[1], 1))


def _middle(corners: list[Point]) -> Point:
    """The middle of the floor: its centroid, or the corners' middle when it has no area."""
    twice, x, y = 0.0, 0.0, 0.0
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        cross = ax * by - bx * ay
        twice += cross
        x += (ax + bx) * cross
        y += (ay + by) * cross
    if abs(twice) < 1.0:
        return mean_point(corners)
    return x / (3 * twice), y / (3 * twice)


def off_walls(point: Point, corners: list[Point]) -> float:
    """The distance from a point to the nearest of the walls between these corners, in mm."""
    turned = [*corners[1:], corners[0]]
    return min(_off(point, a, b) for a, b in zip(corners, turned, strict=True))


def _off(point: Point, a: Point, b: Point) -> float:
    length = hypot(b[0] - a[0], b[1] - a[1])
    if not length:
        return hypot(point[0] - a[0], point[1] - a[1])
    along = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length**2
    share = min(max(along, 0.0), 1.0)
    return hypot(point[0] - a[0] - share * (b[0] - a[0]), point[1] - a[1] - share * (b[1] - a[1]))
