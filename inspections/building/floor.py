"""Floors as polygons on the plan, and rooms with walls and openings made of them.

Points are millimetres east and north. Walls run clockwise, as in a house file.
"""

from collections.abc import Iterable, Sequence
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any, NamedTuple

from inspections.checker.geometry.plan import Point, point_within

Data = dict[str, Any]

STRAIGHT_DEG = 0.5  # a corner flatter than this is none
SHORTEST_MM = 15.0  # a wall shorter than this is dust of the model
THICKEST_MM = 700.0  # of a wall between a room and what lies beyond it


class Gap(NamedTuple):
    """A door, window or opening on the plan."""

    kind: str
    middle: Point
    width: float
    sill: float | None = None
    name: str = ""


def cleaned(points: Iterable[Point]) -> list[Point]:
    """The corners of a floor, clockwise as seen from above, without dust or straight ones."""
    ring = []
    for x, y in points:
        ring.append((round(x, 3), round(y, 3)))
    if ring and ring[0] == ring[-1]:
        ring.pop()
    if area(ring) > 0:
        ring.reverse()
    changed = True
    while changed and len(ring) > 3:
        changed = False
        for index in range(len(ring)):
            a, b, c = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
            if hypot(b[0] - a[0], b[1] - a[1]) < SHORTEST_MM or abs(_turn(a, b, c)) < STRAIGHT_DEG:
                del ring[index]
                changed = True
                break
    return ring


def area(points: Sequence[Point]) -> float:
    """Twice signed: positive counter-clockwise. The floor's area in mm²."""
    ends = zip(points, [*points[1:], *points[:1]], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in ends) / 2


def _turn(a: Point, b: Point, c: Point) -> float:
    """The turn to the right at b, in degrees."""
    turn = _heading(b, c) - _heading(a, b)
    return (turn + 180) % 360 - 180


def _heading(a: Point, b: Point) -> float:
    return degrees(atan2(b[0] - a[0], b[1] - a[1]))


def room_of(name: str, said: str, kind: str, area_id: str, storey: str, ring: list[Point]) -> Data:
    """A room of a house file with these corners."""
    walls = []
    for index, point in enumerate(ring):
        after = ring[(index + 1) % len(ring)]
        beyond = ring[(index + 2) % len(ring)]
        length = hypot(after[0] - point[0], after[1] - point[1])
        turn = round(_turn(point, after, beyond), 6)
        walls.append(
            {"id": f"w{index + 1}", "length_mm": round(length, 3), "turn_deg": turn, "openings": []}
        )
    return {
        **{"id": name, "name": said[:120], "kind": kind, "area": area_id, "storey": storey},
        **{"walls": walls, "x_mm": ring[0][0], "y_mm": ring[0][1]},
        "heading_deg": round(_heading(ring[0], ring[1]), 6),
    }


class Placed(NamedTuple):
    """Where a point lies by a wall: how far along it, and how far off."""

    room: Data
    wall: Data
    along: float
    off: float


def by_walls(rooms: Iterable[Data], point: Point, reach: float) -> list[Placed]:
    """The nearest wall of each room that has one within reach of a point, the nearest first."""
    found = []
    for room in rooms:
        best: Placed | None = None
        for wall, left, heading in wall_runs(room):
            dx, dy = point[0] - left[0], point[1] - left[1]
            east, north = sin(radians(heading)), cos(radians(heading))
            along, off = dx * east + dy * north, dx * north - dy * east
            if -1 <= along <= wall["length_mm"] + 1 and abs(off) <= reach:
                placed = Placed(room, wall, along, abs(off))
                if best is None or placed.off < best.off:
                    best = placed
        if best:
            found.append(best)
    return sorted(found, key=lambda placed: placed.off)


def wall_runs(room: Data) -> Iterable[tuple[Data, Point, float]]:
    """Each wall of a room with its left end and the way it runs."""
    x, y, heading = room["x_mm"], room["y_mm"], room["heading_deg"]
    for wall in room["walls"]:
        yield wall, (x, y), heading
        x += wall["length_mm"] * sin(radians(heading))
        y += wall["length_mm"] * cos(radians(heading))
        heading += wall["turn_deg"]


def put_gap(rooms: Sequence[Data], gap: Gap) -> int:
    """Put a door or window into the walls at its place; in how many rooms it came to lie."""
    count = 0
    for placed in by_walls(rooms, gap.middle, THICKEST_MM)[:2]:
        wall = placed.wall
        width = min(gap.width, wall["length_mm"])
        left = min(max(placed.along - width / 2, 0.0), wall["length_mm"] - width)
        clash = False
        for other in wall["openings"]:
            if left < other["at_mm"] + other["width_mm"] - 1 and other["at_mm"] < left + width - 1:
                clash = True
                break
        if clash or width <= 0:
            continue
        opening: Data = {"kind": gap.kind, "at_mm": round(left, 1), "width_mm": round(width, 1)}
        if gap.kind == "window" and gap.sill is not None:
            opening["sill_mm"] = round(max(gap.sill, 0.0), 1)
        wall["openings"] = sorted([*wall["openings"], opening], key=lambda each: each["at_mm"])
        count += 1
    return count


def mark_outside(rooms: Sequence[Data]) -> None:
    """A wall is outside when no other room of its storey lies beyond it."""
    rings = {}
    for room in rooms:
        rings[room["id"]] = [left for _, left, _ in wall_runs(room)]
    for room in rooms:
        others = []
        for other in rooms:
            if other["storey"] == room["storey"] and other is not room:
                others.append(rings[other["id"]])
        for wall, left, heading in wall_runs(room):
            wall["outside"] = not _covered(_beyond(wall, left, heading), others)


def _beyond(wall: Data, left: Point, heading: float) -> list[Point]:
    """Points behind the middle of a wall, the nearest first."""
    east, north = sin(radians(heading)), cos(radians(heading))
    half = wall["length_mm"] / 2
    points: list[Point] = []
    for off in (100.0, 250.0, 400.0, THICKEST_MM):
        points.append((left[0] + half * east - off * north, left[1] + half * north + off * east))
    return points


def _covered(points: Sequence[Point], rings: Sequence[list[Point]]) -> bool:
    """Whether any of the points lies in any of the rooms."""
    for point in points:
        for ring in rings:
            if point_within(point, ring):
                return True
    return False
