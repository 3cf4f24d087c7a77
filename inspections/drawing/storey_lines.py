"""The lines of a storey: walls, what is in them, counters and fixtures, joined by kind."""

from collections.abc import Sequence
from xml.etree import ElementTree as Tree

from inspections.checker.house.fixtures import Fixture
from inspections.checker.house.rooms import Counter, Opening, OpeningKind, Wall, WallKind

from .geometry import COUNTER_DEPTH, Point, SheetWall
from .storey_drawn import StoreyDrawn, svg_path

CABINET_DEPTH = 350.0
GLASS = (-40.0, 0.0, 40.0)  # mm off the middle of a wall
KIND_OF_WALL = {
    WallKind.OPEN: "open-side",
    WallKind.RAILING: "railing",
    WallKind.WALL: "wall",
}
FILLED = (OpeningKind.FIREPLACE, OpeningKind.CABINET, OpeningKind.FIXTURE)
GLAZED = (OpeningKind.WINDOW, OpeningKind.SLIDING_DOOR, OpeningKind.FIXED_PANEL)


def draw_lines(svg: Tree.Element, drawn: StoreyDrawn) -> None:
    """One path for each kind of line; `fixture` and `fixed` are closed shapes."""
    lines = _Lines()
    for room in drawn.rooms:
        sides = drawn.placing.sides[room.id]
        for fixture in room.fixtures or ():
            lines.fixture(fixture, sides.get(fixture.wall or ""))
        for wall in room.walls:
            lines.wall(wall, sides[wall.id])
    for counter in drawn.house.counters:
        if counter.room in drawn.shown:
            lines.counter(counter, drawn)
    for kind, path in lines.paths.items():
        Tree.SubElement(svg, "path", {"class": kind, "d": path})


class _Lines:
    """Paths by kind, what is beneath the others first."""

    def __init__(self) -> None:
        self.paths: dict[str, str] = {}

    def _add(self, kind: str, corners: Sequence[Point], closed: str = "") -> None:
        if len(set(corners)) > 1:
            self.paths[kind] = self.paths.get(kind, "") + svg_path(corners) + closed

    def fixture(self, fixture: Fixture, side: SheetWall | None) -> None:
        """A fixture that is recorded with its place and size."""
        at, width, depth = fixture.at_mm, fixture.width_mm, fixture.depth_mm
        if side is None or at is None or width is None or depth is None:
            return
        near, far = fixture.from_wall_mm, fixture.from_wall_mm + depth
        end = at + width
        corners = (side.at(at, near), side.at(end, near), side.at(end, far), side.at(at, far))
        self._add("fixture", corners, "Z")

    def wall(self, wall: Wall, side: SheetWall) -> None:
        """A wall between its openings, and what is in them."""
        kind, at = KIND_OF_WALL[wall.kind], 0.0
        openings = sorted(wall.openings, key=_left)
        if wall.kind is WallKind.OPEN:
            openings = []
        for opening in openings:
            self._add(kind, (side.at(at), side.at(opening.at_mm)))
            at = opening.at_mm + opening.width_mm
            self._opening(opening, side)
        self._add(kind, (side.at(at), side.at(side.length)))

    def _opening(self, opening: Opening, side: SheetWall) -> None:
        start, end = opening.at_mm, opening.at_mm + opening.width_mm
        if opening.kind is OpeningKind.DOOR:
            self._door(side, start, end)
        elif opening.kind in GLAZED:
            for off in GLASS:
                self._add("glass", (side.at(start, off), side.at(end, off)))
        elif opening.kind in FILLED:
            far = (side.at(end, CABINET_DEPTH), side.at(start, CABINET_DEPTH))
            self._add("fixed", (side.at(start), side.at(end), *far), "Z")

    def _door(self, side: SheetWall, start: float, end: float) -> None:
        """A leaf that stands open, and the quarter circle of its edge."""
        leaf = end - start
        self._add("leaf", (side.at(start), side.at(start, leaf)))
        (x, y), (to_x, to_y) = side.at(start, leaf), side.at(end)
        arc = f"M{x:.0f} {y:.0f}A{leaf:.0f} {leaf:.0f} 0 0 1 {to_x:.0f} {to_y:.0f}"
        self.paths["swing"] = self.paths.get("swing", "") + arc

    def counter(self, counter: Counter, drawn: StoreyDrawn) -> None:
        """A wall counter as its front edge; an island has no place in a house file."""
        depth = counter.depth_mm or COUNTER_DEPTH
        for stretch in counter.along:
            side = drawn.placing.sides[counter.room][stretch.wall]
            end = stretch.at_mm + stretch.width_mm
            self._add("counter", (side.at(stretch.at_mm, depth), side.at(end, depth)))


def _left(opening: Opening) -> float:
    return opening.at_mm
