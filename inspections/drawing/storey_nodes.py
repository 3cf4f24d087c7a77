"""The symbols of a storey: each drawn once, and used wherever a box or panel is like it."""

from collections.abc import Iterator
from xml.etree import ElementTree as Tree

from inspections.checker.house.boxes import Box
from inspections.checker.house.power import Appliance, Panel

from .geometry import Point
from .labels import ASCENT, DESCENT, Rect, width_of
from .storey_drawn import StoreyDrawn
from .symbols import draw_appliance, draw_box, draw_panel

HALF = 160.0  # mm from the middle of a symbol to its rim, strokes and rays with it

Node = Box | Panel | Appliance


def nodes_of(drawn: StoreyDrawn) -> Iterator[tuple[Node, Point]]:
    """Every box, panel and appliance of the storey, and where it is drawn."""
    nodes: list[Node] = [*drawn.house.boxes, *drawn.house.panels, *drawn.house.appliances]
    for node in nodes:
        if node.room in drawn.shown:
            yield node, drawn.placing.points[node.id]


def symbol_boxes(drawn: StoreyDrawn) -> list[Rect]:
    """What each symbol takes of the plan, with its letters."""
    return [_box(_symbol(node), at) for node, at in nodes_of(drawn)]


def _box(symbol: Tree.Element, at: Point) -> Rect:
    x, y = at
    left = top = -HALF
    right = bottom = HALF
    for text in symbol.iter("text"):
        size, middle = float(text.attrib["font-size"]), float(text.get("x", "0"))
        width, base = width_of(text.text or "") * size, float(text.attrib["y"])
        start = middle
        if text.get("text-anchor") == "middle":
            start = middle - width / 2
        left, right = min(left, start), max(right, start + width)
        top, bottom = min(top, base - ASCENT * size), max(bottom, base + DESCENT * size)
    return Rect(x + left, y + top, x + right, y + bottom)


def draw_nodes(svg: Tree.Element, drawn: StoreyDrawn) -> None:
    """Symbols by their shape, then a use of one for each node."""
    shapes: dict[str, str] = {}
    known = Tree.SubElement(svg, "defs")
    uses = Tree.SubElement(svg, "g", {"class": "nodes"})
    for node, (x, y) in nodes_of(drawn):
        symbol = _symbol(node)
        shape = Tree.tostring(symbol, encoding="unicode")
        if shape not in shapes:
            shapes[shape] = f"{drawn.id}-symbol-{len(shapes)}"
            symbol.set("id", shapes[shape])
            known.append(symbol)
        kind = "node"
        if node.id not in drawn.placing.boxes:
            kind = "node loose"
        given = {"class": kind, "data-node": node.id, "href": f"#{shapes[shape]}"}
        Tree.SubElement(uses, "use", given | {"x": f"{x:.0f}", "y": f"{y:.0f}"})


def _symbol(node: Node) -> Tree.Element:
    group = Tree.Element("g", {"class": "symbol"})
    if isinstance(node, Box):
        draw_box(group, node)
    elif isinstance(node, Panel):
        draw_panel(group)
    else:
        draw_appliance(group)
    return group
