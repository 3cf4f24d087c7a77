"""One storey as a plan: walls, openings, symbols, a circuit's runs, and what is short in place."""

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree as Tree

from config.messages.message import Length, Rounding
from config.messages.saying import said
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import Box
from inspections.checker.house.power import Appliance, Panel
from inspections.checker.house.rooms import Counter, OpeningKind, Room, Wall, WallKind

from .drawing_messages import PLAN_OF
from .geometry import COUNTER_DEPTH, Placing, Point, SheetWall, bounds, middle, rooms_drawn
from .marks import Mark, marks_of
from .symbols import draw_appliance, draw_box, draw_panel

MARGIN = 1100.0  # mm of sheet round the walls
NAME_OFF = 560.0  # mm from the middle of a room down to its name, clear of a luminaire there
LABEL_OFF = 330.0  # mm from the wall to the length of a stretch of it
LINE_HEIGHT = 170  # mm from one line beneath a ring to the next
TO_CORRECT = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)


Say = Callable[[Any], str]
"""How a sentence is said to whoever looks at the plan."""


def plan_svg(
    house: House,
    storey: str,
    findings: Sequence[Finding] = (),
    circuit: str | None = None,
    say: Say = said,
) -> str:
    """The plan of a storey as an SVG element, in mm.

    `findings` that are short or unknown are marked where they are; `circuit` draws the runs of
    that circuit as straight lines from node to node, since a house does not say their route.
    """
    rooms, placing = rooms_drawn(house, storey), Placing(house)
    shown = {room.id for room in rooms}
    left, top, width, height = bounds(_corners(rooms, placing), MARGIN)
    svg = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"{left:.0f} {top:.0f} {width:.0f} {height:.0f}",
            "class": "plan",
            "role": "img",
            "aria-label": say(PLAN_OF(storey=_storey_name(house, storey))),
        },
    )
    for room in rooms:
        _room(svg, room, placing)
    for counter in house.counters:
        if counter.room in shown:
            _counter(svg, counter, placing.sides[counter.room])
    if circuit is not None:
        _runs(svg, house, circuit, placing, shown)
    _nodes(svg, house, placing, shown)
    to_correct = [finding for finding in findings if finding.verdict in TO_CORRECT]
    marks = marks_of(house, to_correct)
    _rings(svg, _places(to_correct, marks, shown), placing, say)
    for finding in to_correct:
        if finding.spot.room in shown:
            sides = placing.sides[finding.spot.room]
            _stretches(svg, marks[finding.key], sides, finding.verdict, say)
    return Tree.tostring(svg, encoding="unicode")


def _corners(rooms: Iterable[Room], placing: Placing) -> list[Point]:
    """Both ends of every wall, on the sheet."""
    corners: list[Point] = []
    for room in rooms:
        for wall in placing.sides[room.id].values():
            corners += [wall.at(0), wall.at(wall.length)]
    return corners


def _storey_name(house: House, storey: str) -> str:
    return next(each.name for each in house.storeys if each.id == storey)


def _room(svg: Tree.Element, room: Room, placing: Placing) -> None:
    group = Tree.SubElement(svg, "g", {"class": "room", "data-room": room.id})
    for wall in room.walls:
        _wall(group, wall, placing.sides[room.id][wall.id])
    x, y = middle(room)
    given = {"x": f"{x:.0f}", "y": f"{y + NAME_OFF:.0f}", "class": "room-name"}
    given["text-anchor"] = "middle"
    Tree.SubElement(group, "text", given).text = room.name


def _wall(group: Tree.Element, wall: Wall, side: SheetWall) -> None:
    if wall.kind is WallKind.OPEN:
        _line(group, side.at(0), side.at(side.length), "open-side")
        return
    kind = "wall"
    if wall.kind is WallKind.RAILING:
        kind = "railing"
    at = 0.0
    for opening in sorted(wall.openings, key=lambda each: each.at_mm):
        _line(group, side.at(at), side.at(opening.at_mm), kind)
        end = opening.at_mm + opening.width_mm
        _opening(group, opening.kind, side, opening.at_mm, end)
        at = end
    _line(group, side.at(at), side.at(side.length), kind)


def _opening(
    group: Tree.Element, kind: OpeningKind, side: SheetWall, start: float, end: float
) -> None:
    if kind is OpeningKind.DOOR:
        _line(group, side.at(start), side.at(start, end - start), "leaf")
        (x1, y1), (x2, y2) = side.at(start, end - start), side.at(end)
        r = end - start
        arc = f"M{x1:.0f} {y1:.0f}A{r:.0f} {r:.0f} 0 0 1 {x2:.0f} {y2:.0f}"
        Tree.SubElement(group, "path", {"d": arc, "class": "swing"})
    elif kind in (OpeningKind.WINDOW, OpeningKind.SLIDING_DOOR, OpeningKind.FIXED_PANEL):
        for off in (-40, 0, 40):
            _line(group, side.at(start, off), side.at(end, off), "glass")
    elif kind in (OpeningKind.FIREPLACE, OpeningKind.CABINET, OpeningKind.FIXTURE):
        corners = (side.at(start), side.at(start, 350), side.at(end, 350), side.at(end))
        pairs_of_mm = []
        for x, y in corners:
            pairs_of_mm.append(f"{x:.0f},{y:.0f}")
        points = " ".join(pairs_of_mm)
        Tree.SubElement(group, "polygon", {"points": points, "class": "fixed"})


def _counter(svg: Tree.Element, counter: Counter, walls: Mapping[str, SheetWall]) -> None:
    """A wall counter as its front edge; an island has no place in a house file."""
    depth = counter.depth_mm or COUNTER_DEPTH
    for stretch in counter.along:
        side, end = walls[stretch.wall], stretch.at_mm + stretch.width_mm
        corners = (side.at(stretch.at_mm, depth), side.at(end, depth))
        _line(svg, *corners, "counter")


def _runs(
    svg: Tree.Element, house: House, circuit: str, placing: Placing, shown: Iterable[str]
) -> None:
    group = Tree.SubElement(svg, "g", {"class": "runs", "data-circuit": circuit})
    rooms = {}
    placed: list[Box | Panel | Appliance] = [*house.boxes, *house.panels, *house.appliances]
    for one in placed:
        rooms[one.id] = one.room
    shown = set(shown)
    for cable in house.cables:
        boxes = []
        for t in cable.through:
            boxes.append(t.box)
        nodes = [cable.ends[0], *boxes, cable.ends[1]]
        if cable.circuit != circuit or not any(rooms.get(node) in shown for node in nodes):
            continue
        points = []
        for node in nodes:
            if node in placing.points:
                points.append(placing.points[node])
        for start, end in pairwise(points):
            _line(group, start, end, "run")


def _nodes(svg: Tree.Element, house: House, placing: Placing, shown: set[str]) -> None:
    for box in house.boxes:
        if box.room in shown:
            draw_box(_node(svg, box.id, placing.points[box.id]), box)
    for panel in house.panels:
        if panel.room in shown:
            draw_panel(_node(svg, panel.id, placing.points[panel.id]))
    for appliance in house.appliances:
        if appliance.room in shown:
            draw_appliance(_node(svg, appliance.id, placing.points[appliance.id]))


def _node(svg: Tree.Element, name: str, at: Point) -> Tree.Element:
    """The group of a node's symbol, drawn round its own middle."""
    group = Tree.SubElement(svg, "g", {"class": "node", "data-node": name, "transform": _moved(at)})
    Tree.SubElement(group, "title").text = name
    return group


def _moved(at: Point) -> str:
    x, y = at
    return f"translate({x:.0f} {y:.0f})"


def _places(
    findings: Iterable[Finding], marks: Mapping[str, Mark], shown: Container[str]
) -> dict[Point, list[Finding]]:
    """What is to be corrected at each place in the rooms shown."""
    here: dict[Point, list[Finding]] = {}
    for finding in findings:
        mark = marks[finding.key]
        for point, room in zip(mark.points, mark.point_rooms, strict=True):
            if room in shown:
                here.setdefault(point, []).append(finding)
    return here


def _rings(
    svg: Tree.Element, places: Mapping[Point, list[Finding]], placing: Placing, say: Say
) -> None:
    """A ring at each place, with what is to be corrected there, a line each."""
    boxes = {point: f"{box}: " for box, point in placing.boxes.items()}
    for at, findings in places.items():
        verdict = min(findings, key=lambda each: TO_CORRECT.index(each.verdict)).verdict
        given = {"class": f"place to-correct {verdict}", "transform": _moved(at)}
        group = Tree.SubElement(svg, "g", given)
        Tree.SubElement(group, "circle", {"r": "230", "class": "mark"})
        for line, finding in enumerate(findings):
            words = finding.words
            drop = {"y": str(430 + line * LINE_HEIGHT), "text-anchor": "middle"}
            text = Tree.SubElement(group, "text", drop | {"class": "figure"})
            text.text = boxes.get(at, "") + say(words.figure or words.says)


def _stretches(
    svg: Tree.Element, mark: Mark, sides: Mapping[str, SheetWall], verdict: Verdict, say: Say
) -> None:
    """The stretches of wall that a finding is about, each with its length."""
    for (start, end), part in zip(mark.stretches, mark.walls, strict=True):
        group = Tree.SubElement(svg, "g", {"class": f"stretch {verdict}"})
        _line(group, start, end, "mark")
        x, y = sides[part.wall].at(part.at_mm + part.width_mm / 2, LABEL_OFF)
        given = {"x": f"{x:.0f}", "y": f"{y:.0f}", "text-anchor": "middle", "class": "figure"}
        text = Tree.SubElement(group, "text", given)
        text.text = say(Length(part.width_mm, Rounding.UP))


def _line(group: Tree.Element, start: Point, end: Point, kind: str) -> None:
    if start != end:
        (x1, y1), (x2, y2) = start, end
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        given = {}
        for name, value in ends.items():
            given[name] = str(round(value))
        Tree.SubElement(group, "line", given | {"class": kind})
