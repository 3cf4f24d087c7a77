"""A storey as the plan of a job's page: rooms by their state, and what is open where it is.

The plan is an SVG in mm of the sheet, without ids that a page could have twice but those of its
own symbols. What a page does with it:

- `svg.house-plan` has `data-scales`: the least pixels a mm of each step of zoom. Whenever the zoom
  has changed, a script reads the scale at which the plan is shown (its width on the screen by the
  width of its viewBox, transforms and all), sets `svg.style.fontSize = 12 / scale + "px"` (words
  and badges are in em, so that keeps words 12 px on the screen) and `svg.dataset.step` to the
  number of the last step whose scale is reached; -1 before the first, without words. As it comes
  the plan is set for a phone upright.
- A word has a class `s0` to `s5`, the step from which it is shown, and perhaps `u1` to `u5`, the
  step from which another stands for it. At no scale do two words overlap.
- `g.room[data-room][data-state]` is a room's floor, to be tinted and tapped; `data-state` is the
  worst of its lines.
- `.ring[data-lines][data-state]` is a place, with the numbers of all its lines; `.stretch` the
  same along walls. `use.node[data-node]` is a box, panel or appliance; one of class `loose` has no
  recorded place and is never ringed.
- `g.count[data-room]` is how many lines are open in a room; `text.lines[data-lines]` the numbers
  beside a ring, with the figure in `tspan.figure`.

As it comes it is one image to whoever hears a page; the list beside it says all that it shows.
`static/css/house-plan.css` shows and hides by step. Names of classes are all that it rests on.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree as Tree

from config.messages.saying import said
from inspections.checker.finding import Verdict
from inspections.checker.house import House

from .drawing_messages import PLAN_OF
from .geometry import Point
from .labels import ANCHOR, COUNT_EM, Label, LabelKind, em_at
from .layout import RING_MM, Floor, Place, lay_out, scales
from .marks import Mark
from .storey_drawn import StoreyDrawn, svg_path
from .storey_lines import draw_lines
from .storey_nodes import draw_nodes, symbol_boxes

LABEL_OFF = 330.0  # mm from the wall to what is said of a stretch of it
WORST_FIRST = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED, Verdict.VERIFY, Verdict.OK)

Say = Callable[[Any], str]
"""How a sentence is said to whoever looks at the plan."""


@dataclass(frozen=True, slots=True)
class PlanLine:
    """An open line on the plan."""

    number: int
    mark: Mark
    state: Verdict
    figure: str = ""
    """Its figure as its reader measures; empty for none. A bare number is not said: beside that of
    the line nobody could tell which is which."""


def plan_of_storey(
    house: House,
    storey: str,
    lines: Sequence[PlanLine],
    states: Mapping[str, Verdict],
    say: Say = said,
) -> str:
    """The plan of a storey as SVG, with the lines that are open and the worst state of each room.

    `lines` may be of the whole house: what is on another storey is not drawn. A room without a
    state is not tinted.
    """
    drawn = StoreyDrawn(house, storey)
    svg = _sheet(drawn, say(PLAN_OF(storey=drawn.name)))
    _floors(svg, drawn, states)
    draw_lines(svg, drawn)
    draw_nodes(svg, drawn)
    _marks(svg, drawn, lines)
    _words(svg, words_of(drawn, lines), lines)
    return Tree.tostring(svg, encoding="unicode")


def words_of(drawn: StoreyDrawn, lines: Sequence[PlanLine]) -> list[Label]:
    """The words of a storey's plan, with the steps of zoom at which each is shown."""
    counts: dict[str, int] = {}
    for line in lines:
        counts[line.mark.room] = counts.get(line.mark.room, 0) + 1
    floors: list[Floor] = []
    for room in drawn.rooms:
        floors.append(Floor(room.id, room.name, drawn.floors[room.id], counts.get(room.id, 0)))
    places = [*_places(drawn, lines), *_stretch_places(drawn, lines)]
    return lay_out(floors, places, symbol_boxes(drawn), drawn.box[2])


def _lines_at(
    drawn: StoreyDrawn, lines: Iterable[PlanLine]
) -> dict[tuple[str, Point], list[PlanLine]]:
    """The lines at each place of the storey, by its room and point."""
    here: dict[tuple[str, Point], list[PlanLine]] = {}
    for line in lines:
        for point, room in zip(line.mark.points, line.mark.point_rooms, strict=True):
            if room in drawn.shown:
                here.setdefault((room, point), []).append(line)
    return here


def _places(drawn: StoreyDrawn, lines: Iterable[PlanLine]) -> list[Place]:
    places: list[Place] = []
    for (room, point), here in _lines_at(drawn, lines).items():
        numbers = tuple(line.number for line in here)
        places.append(Place(room, point, numbers, _figure(here[0])))
    return places


def _stretch_places(drawn: StoreyDrawn, lines: Iterable[PlanLine]) -> list[Place]:
    """Where the number of a stretch stands: off the middle of its longest part."""
    places: list[Place] = []
    for line in lines:
        if line.mark.room in drawn.shown and line.mark.walls:
            longest = max(line.mark.walls, key=lambda part: part.width_mm)
            side = drawn.placing.sides[line.mark.room][longest.wall]
            at = side.at(longest.at_mm + longest.width_mm / 2, LABEL_OFF)
            places.append(Place(line.mark.room, at, (line.number,), _figure(line), ringed=False))
    return places


def _figure(line: PlanLine) -> str:
    if line.figure.strip("0123456789.,") == "":
        return ""
    return line.figure


def worst_state(states: Iterable[Verdict]) -> Verdict:
    """The state that is to be seen first."""
    return min(states, key=WORST_FIRST.index)


def _sheet(drawn: StoreyDrawn, label: str) -> Tree.Element:
    left, top, width, height = drawn.box
    steps = scales(width)
    given = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"{left:.0f} {top:.0f} {width:.0f} {height:.0f}",
        "class": "house-plan",
        "role": "img",
        "aria-label": label,
        "font-size": f"{em_at(steps[0]):.0f}",
        "data-storey": drawn.id,
        "data-step": "0",
        "data-scales": " ".join(f"{scale:.5f}" for scale in steps),
    }
    return Tree.Element("svg", given)


def _floors(svg: Tree.Element, drawn: StoreyDrawn, states: Mapping[str, Verdict]) -> None:
    floors = Tree.SubElement(svg, "g", {"class": "rooms"})
    for room in drawn.rooms:
        given = {"class": "room", "data-room": room.id}
        if room.id in states:
            given["data-state"] = states[room.id]
        group = Tree.SubElement(floors, "g", given)
        Tree.SubElement(group, "path", {"d": svg_path(drawn.floors[room.id]) + "Z"})


def _marks(svg: Tree.Element, drawn: StoreyDrawn, lines: Sequence[PlanLine]) -> None:
    """Stretches, then rings over them: one element a place, however many lines are there."""
    group = Tree.SubElement(svg, "g", {"class": "marks"})
    for line in lines:
        if line.mark.room in drawn.shown and line.mark.stretches:
            path = "".join(svg_path(ends) for ends in line.mark.stretches)
            given = {"class": "stretch", "d": path, "data-room": line.mark.room}
            Tree.SubElement(group, "path", given | _of_lines([line]))
    for (room, (x, y)), here in _lines_at(drawn, lines).items():
        given = {"class": "ring", "cx": f"{x:.0f}", "cy": f"{y:.0f}", "r": f"{RING_MM:.0f}"}
        given |= {"data-room": room} | _of_lines(here) | _opens(room, here)
        Tree.SubElement(group, "circle", given)


def _opens(room: str, here: Sequence[PlanLine]) -> dict[str, str]:
    """What a tap on a ring opens, where its first line is listed in another room: a line of its own
    room if there is one, else that line where it is listed, as a circuit is at its panel.
    """
    opened = min(here, key=lambda line: line.mark.room != room)
    if opened is here[0] and opened.mark.room == room:
        return {}
    return {"data-opens": str(opened.number), "data-in": opened.mark.room}


def _of_lines(lines: Sequence[PlanLine]) -> dict[str, str]:
    """The numbers of lines and the worst of their states."""
    return {
        "data-lines": " ".join(str(line.number) for line in lines),
        "data-state": worst_state(line.state for line in lines),
    }


def _words(svg: Tree.Element, labels: Iterable[Label], lines: Iterable[PlanLine]) -> None:
    """Names beneath, then what is said at rings, then the counts."""
    groups = {
        LabelKind.NAME: Tree.SubElement(svg, "g", {"class": "names"}),
        LabelKind.LINES: Tree.SubElement(svg, "g", {"class": "numbers"}),
        LabelKind.COUNT: Tree.SubElement(svg, "g", {"class": "counts"}),
    }
    in_room: dict[str, list[Verdict]] = {}
    for line in lines:
        in_room.setdefault(line.mark.room, []).append(line.state)
    for label in labels:
        if label.kind is LabelKind.COUNT:
            _count(groups[label.kind], label, worst_state(in_room[label.of]))
        elif label.kind is LabelKind.NAME:
            _text(groups[label.kind], label, f"name {_steps(label)}", {"data-room": label.of})
        else:
            given = {"data-lines": label.of}
            text = _text(groups[label.kind], label, f"lines {_steps(label)}", given)
            if label.figure_from is not None:
                more = {"class": f"figure s{label.figure_from}"}
                Tree.SubElement(text, "tspan", more).text = f" {label.figure}"


def _steps(label: Label) -> str:
    """The classes that say from and until which step a word is shown."""
    if label.until is None:
        return f"s{label.first}"
    return f"s{label.first} u{label.until}"


def _count(group: Tree.Element, label: Label, state: Verdict) -> None:
    x, y = label.at
    given = {"class": f"count {_steps(label)}", "data-room": label.of, "data-state": state}
    badge = Tree.SubElement(group, "g", given)
    at = {"cx": f"{x:.0f}", "cy": f"{y:.0f}", "r": f"{COUNT_EM}em"}
    Tree.SubElement(badge, "circle", at)
    _text(badge, label, "", {})


def _text(group: Tree.Element, label: Label, kind: str, given: Mapping[str, str]) -> Tree.Element:
    x, y = label.at
    at = {"x": f"{x:.0f}", "y": f"{y:.0f}", "dy": f"{label.drop:.2f}em"}
    at["text-anchor"] = ANCHOR.get(label.hold, "middle")
    if kind:
        at["class"] = kind
    text = Tree.SubElement(group, "text", at | dict(given))
    text.text = label.text
    return text
