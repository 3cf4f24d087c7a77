"""Plans of a house on paper, black on white: walls, boxes, and labels at their places."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from inspections.checker.house import House
from inspections.checker.house.rooms import Opening, OpeningKind, Room, Storey, Wall, WallKind
from inspections.drawing.geometry import (
    COUNTER_DEPTH,
    Placing,
    Point,
    SheetWall,
    bounds,
    middle,
    storeys_drawn,
)
from inspections.papers.sheets.labels import (
    LabelSheet,
    PaperBox,
    Spot,
    far_from,
    gathered,
    nearest_edge,
    rect_round,
)
from inspections.papers.sheets.large_frame import SMALLEST
from inspections.papers.sheets.plan_symbols import Node, draw_symbol
from inspections.papers.sheets.styles import BOLD, FINE, INK, PAPER, REGULAR, width, wrapped

MARGIN_MM = 700.0
"""Of sheet round the walls."""
WALL, STRETCH, RING_LINE = 1.3, 3.6, 1.2
RING = 4.6
"""Points from the middle of a place to its ring."""
TOGETHER = 5.0
"""Points within which places have one ring and one label."""
NARROWEST = 30.0
"""Points that a room's name is given at least before it breaks."""
OFF_LINES = 5.0
"""Points of a piece of wall that labels keep off."""
LEAF = 0.8
"""Of a door's width that its open leaf is drawn."""
LEADER = 4.0
"""Points from which a label has a line to its place."""
TALL = 9.6
"""Of the box that a line of letters takes."""
GLAZED = (OpeningKind.WINDOW, OpeningKind.SLIDING_DOOR, OpeningKind.FIXED_PANEL)
FIXED = (OpeningKind.FIREPLACE, OpeningKind.CABINET, OpeningKind.FIXTURE)


@dataclass(frozen=True, slots=True)
class PlanLabel:
    """A few letters on the plan: at places, along stretches, or in a room as a whole."""

    text: str
    room: str
    points: tuple[Point, ...] = ()
    stretches: tuple[tuple[Point, Point], ...] = ()
    ringed: bool = True

    @property
    def anywhere(self) -> bool:
        """Whether nothing says where in the room it is."""
        return not self.points and not self.stretches


@dataclass(slots=True)
class _Scale:
    """From mm of the drawing to points of the sheet."""

    by: float
    left: float
    top: float

    def at(self, point: Point) -> Spot:
        return self.left + point[0] * self.by, self.top - point[1] * self.by


@dataclass(slots=True)
class _Drawn:
    """A storey being drawn: its rooms, where they are, and what is taken."""

    house: House
    rooms: Sequence[Room]
    placing: Placing
    scale: _Scale
    sheet: LabelSheet
    names: dict[str, list[str]] = field(default_factory=dict)
    """What is somewhere in each room, by the room."""


def plan_aspect(house: House) -> float:
    """How many times as wide as it is tall the widest storey is; 0 for a house without walls."""
    widest = 0.0
    placing = Placing(house)
    for storey in storeys_drawn(house):
        _, _, wide, tall = _bounds(_rooms(house, storey), placing)
        widest = max(widest, wide / tall)
    return widest


class HousePlan(Flowable):
    """Every storey of a house with its labels, one above another, as large as the room allows."""

    def __init__(self, house: House, labels: Sequence[PlanLabel], tall: float = 0.0) -> None:
        super().__init__()
        self.house, self.labels, self.tall = house, labels, tall
        self.storeys = storeys_drawn(house)

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        """All that is left of the sheet, unless it was given a height."""
        self.room = room
        self.high = self.tall or height
        return room, self.high

    def draw(self) -> None:
        """The storeys from the top down, each in its share of the height."""
        if not self.storeys:
            return
        placing = Placing(self.house)
        share = self.high / len(self.storeys)
        for number, storey in enumerate(reversed(self.storeys)):
            edge = PaperBox(0, self.high - (number + 1) * share, self.room, share - 2)
            drawn = _placed(self.house, storey, placing, edge)
            if len(self.storeys) > 1:
                self._name(storey, drawn)
            _draw_storey(self.canv, drawn, self.labels)

    def _name(self, storey: Storey, drawn: _Drawn) -> None:
        edge = drawn.sheet.edge
        self.canv.setFont(BOLD, SMALLEST + 1)
        self.canv.setFillColor(INK)
        top = edge.bottom + edge.tall - 11
        self.canv.drawString(2, top, storey.name)
        wide = width(storey.name, BOLD, SMALLEST + 1)
        drawn.sheet.hard.append(PaperBox(0, top - 2, wide + 4, 12))


def _rooms(house: House, storey: Storey) -> list[Room]:
    rooms: list[Room] = []
    for room in house.rooms:
        if room.storey == storey.id and room.walls:
            rooms.append(room)
    return rooms


def _bounds(rooms: Iterable[Room], placing: Placing) -> tuple[float, float, float, float]:
    corners: list[Point] = []
    for room in rooms:
        for side in placing.sides[room.id].values():
            corners += [side.at(0), side.at(side.length)]
    return bounds(corners, MARGIN_MM)


def _placed(house: House, storey: Storey, placing: Placing, edge: PaperBox) -> _Drawn:
    """A storey fitted into its part of the sheet, in the middle of it."""
    rooms = _rooms(house, storey)
    left, top, wide, tall = _bounds(rooms, placing)
    by = min(edge.wide / wide, edge.tall / tall)
    across = edge.left + (edge.wide - wide * by) / 2
    down = edge.bottom + edge.tall - (edge.tall - tall * by) / 2
    scale = _Scale(by, across - left * by, down + top * by)
    return _Drawn(house, rooms, placing, scale, LabelSheet(edge))


def _draw_storey(canvas: Canvas, drawn: _Drawn, labels: Sequence[PlanLabel]) -> None:
    here = []
    shown: set[str] = set()
    for room in drawn.rooms:
        shown.add(room.id)
    for label in labels:
        if label.room in shown:
            here.append(label)
    canvas.setStrokeColor(INK)
    canvas.setFillColor(INK)
    for room in drawn.rooms:
        for wall in room.walls:
            _wall(canvas, drawn, wall, drawn.placing.sides[room.id][wall.id])
    _counters(canvas, drawn, shown)
    _boxes(canvas, drawn, shown)
    places = _marks(canvas, drawn, here)
    _room_names(canvas, drawn, here)
    _number_places(canvas, drawn, places)


def _line(canvas: Canvas, drawn: _Drawn, start: Point, end: Point, thick: float) -> None:
    canvas.setLineWidth(thick)
    canvas.line(*drawn.scale.at(start), *drawn.scale.at(end))


def _wall(canvas: Canvas, drawn: _Drawn, wall: Wall, side: SheetWall) -> None:
    """A wall with gaps where its openings are; an open side is no line at all."""
    if wall.kind is WallKind.OPEN:
        return
    thick = WALL
    if wall.kind is WallKind.RAILING:
        thick = FINE
    _keep_off(drawn, side.at(0), side.at(side.length))
    at = 0.0
    for opening in sorted(wall.openings, key=lambda each: each.at_mm):
        _line(canvas, drawn, side.at(at), side.at(opening.at_mm), thick)
        _opening(canvas, drawn, opening, side)
        at = opening.at_mm + opening.width_mm
    _line(canvas, drawn, side.at(at), side.at(side.length), thick)


def _keep_off(drawn: _Drawn, start: Point, end: Point) -> None:
    """A line, in pieces, as something that labels cover only if they must."""
    one, other = drawn.scale.at(start), drawn.scale.at(end)
    pieces = max(1, round(far_from(one, other) / OFF_LINES))
    for piece in range(pieces):
        part = (piece + 0.5) / pieces
        at = one[0] + (other[0] - one[0]) * part, one[1] + (other[1] - one[1]) * part
        drawn.sheet.soft.append(rect_round(at, OFF_LINES, OFF_LINES))


def _opening(canvas: Canvas, drawn: _Drawn, opening: Opening, side: SheetWall) -> None:
    start, end = opening.at_mm, opening.at_mm + opening.width_mm
    if opening.kind is OpeningKind.DOOR:
        leaf = side.at(start, opening.width_mm * LEAF)
        _line(canvas, drawn, side.at(start), leaf, FINE)
        _keep_off(drawn, side.at(start), leaf)
    elif opening.kind in GLAZED:
        for off in (-45.0, 45.0):
            _line(canvas, drawn, side.at(start, off), side.at(end, off), FINE)
    elif opening.kind in FIXED:
        _line(canvas, drawn, side.at(start), side.at(start, 350), FINE)
        _line(canvas, drawn, side.at(start, 350), side.at(end, 350), FINE)
        _line(canvas, drawn, side.at(end, 350), side.at(end), FINE)


def _counters(canvas: Canvas, drawn: _Drawn, shown: set[str]) -> None:
    for counter in drawn.house.counters:
        if counter.room not in shown:
            continue
        depth = counter.depth_mm or COUNTER_DEPTH
        for stretch in counter.along:
            side = drawn.placing.sides[counter.room][stretch.wall]
            end = stretch.at_mm + stretch.width_mm
            _line(canvas, drawn, side.at(stretch.at_mm, depth), side.at(end, depth), FINE)


def _boxes(canvas: Canvas, drawn: _Drawn, shown: set[str]) -> None:
    """Boxes, panels and appliances as small signs; labels go beside them where they can."""
    nodes: list[Node] = [*drawn.house.boxes, *drawn.house.panels, *drawn.house.appliances]
    for node in nodes:
        if node.room in shown:
            at = drawn.scale.at(drawn.placing.points[node.id])
            draw_symbol(canvas, node, at)
            drawn.sheet.soft.append(rect_round(at, 6, 6))


def _marks(canvas: Canvas, drawn: _Drawn, labels: Sequence[PlanLabel]) -> list[tuple[Spot, str]]:
    """Rings and heavy lines; where each label belongs."""
    places: list[tuple[Spot, str]] = []
    for label in labels:
        for point in label.points:
            at = drawn.scale.at(point)
            places.append((at, label.text))
            if label.ringed:
                _ring(canvas, drawn, at)
        longest: tuple[float, Spot] | None = None
        for start, end in label.stretches:
            _line(canvas, drawn, start, end, STRETCH)
            _keep_off(drawn, start, end)
            one, other = drawn.scale.at(start), drawn.scale.at(end)
            long = far_from(one, other)
            if longest is None or long > longest[0]:
                longest = long, ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        if longest is not None and not label.points:
            places.append((longest[1], label.text))
    return places


def _ring(canvas: Canvas, drawn: _Drawn, at: Spot) -> None:
    canvas.setLineWidth(RING_LINE)
    canvas.setStrokeColor(INK)
    canvas.circle(*at, RING)
    drawn.sheet.hard.append(rect_round(at, 2 * RING, 2 * RING))


def _home(drawn: _Drawn, room: Room) -> PaperBox:
    """The part of the sheet that a room takes."""
    left, top, wide, tall = bounds(_corners_of(drawn, room), 0)
    x, y = drawn.scale.at((left, top + tall))
    return PaperBox(x, y, wide * drawn.scale.by, tall * drawn.scale.by)


def _corners_of(drawn: _Drawn, room: Room) -> list[Point]:
    corners: list[Point] = []
    for side in drawn.placing.sides[room.id].values():
        corners += [side.at(0), side.at(side.length)]
    return corners


def _room_names(canvas: Canvas, drawn: _Drawn, labels: Sequence[PlanLabel]) -> None:
    """Each room's name near its middle, and beneath it what is somewhere in the room."""
    for label in labels:
        if label.anywhere:
            drawn.names.setdefault(label.room, []).append(label.text)
    for room in drawn.rooms:
        lines = _broken(drawn.names.get(room.id, []), _home(drawn, room).wide - 8)
        _room_name(canvas, drawn, room, lines)


def _broken(texts: Sequence[str], room: float) -> list[str]:
    """Labels side by side, in lines no wider than a room."""
    lines: list[str] = []
    for text in texts:
        longer = f"{lines[-1]}  {text}" if lines else ""
        if lines and width(longer, BOLD, SMALLEST) <= room:
            lines[-1] = longer
        else:
            lines.append(text)
    return lines


def _room_name(canvas: Canvas, drawn: _Drawn, room: Room, lines: Sequence[str]) -> None:
    """A name, and a frame of what is somewhere in the room; with a line to it from outside."""
    home = _home(drawn, room)
    names = wrapped(room.name, REGULAR, SMALLEST, max(home.wide - 4, NARROWEST))
    wide = 0.0
    for name in names:
        wide = max(wide, width(name, REGULAR, SMALLEST))
    for line in lines:
        wide = max(wide, width(line, BOLD, SMALLEST) + 8)
    tall = len(names) * TALL
    if lines:
        tall += len(lines) * (TALL + 1) + 3
    at = drawn.scale.at(middle(room))
    box = drawn.sheet.place(at, (wide + 3, tall + 1), home=home)
    if len(room.walls) > 1 and not box.within(home):
        canvas.setLineWidth(FINE)
        canvas.line(*at, *box.middle)
    canvas.setFillColor(PAPER)
    canvas.rect(box.left, box.bottom, box.wide, box.tall, stroke=0, fill=1)
    canvas.setFillColor(INK)
    canvas.setFont(REGULAR, SMALLEST)
    across = box.left + box.wide / 2
    down = box.bottom + box.tall + 1.6
    for name in names:
        down -= TALL
        canvas.drawCentredString(across, down, name)
    if lines:
        _framed(canvas, box, lines)


def _framed(canvas: Canvas, box: PaperBox, lines: Sequence[str]) -> None:
    """Labels in a broken frame at the foot of their box: in this room, at no place on record."""
    canvas.setLineWidth(0.8)
    canvas.setDash(2, 1.6)
    tall = len(lines) * (TALL + 1) + 1
    canvas.roundRect(box.left + 1, box.bottom, box.wide - 2, tall, 3)
    canvas.setDash()
    canvas.setFont(BOLD, SMALLEST)
    across = box.left + box.wide / 2
    down = box.bottom + tall + 2.0
    for line in lines:
        down -= TALL + 1
        canvas.drawCentredString(across, down, line)


def _number_places(canvas: Canvas, drawn: _Drawn, places: Sequence[tuple[Spot, str]]) -> None:
    """Each label beside its place, with a line to it where it had to go farther away."""
    for at, names in gathered(places, TOGETHER):
        text = ", ".join(names)
        size = (width(text, BOLD, SMALLEST) + 2, TALL)
        box = drawn.sheet.place(at, size, off=RING + 1.5, home=_room_at(drawn, at))
        edge = nearest_edge(box, at)
        far = far_from(edge, at) - RING
        if far > LEADER:
            canvas.setLineWidth(FINE)
            canvas.setStrokeColor(INK)
            start = (
                at[0] + (edge[0] - at[0]) * RING / (far + RING),
                at[1] + (edge[1] - at[1]) * RING / (far + RING),
            )
            canvas.line(*start, *edge)
        canvas.setFillColor(PAPER)
        canvas.rect(box.left, box.bottom, box.wide, box.tall, stroke=0, fill=1)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, SMALLEST)
        canvas.drawString(box.left + 1, box.bottom + 1.8, text)


def _room_at(drawn: _Drawn, at: Spot) -> PaperBox | None:
    """The room whose part of the sheet a place lies in."""
    for room in drawn.rooms:
        home = _home(drawn, room)
        across = home.left <= at[0] <= home.left + home.wide
        if across and home.bottom <= at[1] <= home.bottom + home.tall:
            return home
    return None
