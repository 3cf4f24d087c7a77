"""The runs of circuits on a storey, as straight lines: a house does not say where a cable goes."""

from dataclasses import dataclass

from .geometry import Point
from .storey_drawn import StoreyDrawn, svg_path
from .storey_nodes import nodes_of


@dataclass(frozen=True, slots=True)
class CircuitRuns:
    """What is drawn of one circuit on a storey."""

    circuit: str
    path: str
    """The `d` of one path from node to node."""
    nodes: tuple[str, ...]
    """The boxes, panels and appliances on it, so that a tap on one of them finds it."""


def runs_of(drawn: StoreyDrawn) -> dict[str, CircuitRuns]:
    """The circuits that have a cable on the storey, in the order of the house."""
    points: dict[str, Point] = {node.id: point for node, point in nodes_of(drawn)}
    paths: dict[str, str] = {}
    nodes: dict[str, dict[str, bool]] = {}
    for cable in drawn.house.cables:
        first, last = cable.ends
        line = [first, *(each.box for each in cable.through), last]
        here = [node for node in line if node in points]
        if cable.circuit is None or not here:
            continue
        nodes.setdefault(cable.circuit, {}).update(dict.fromkeys(here, True))
        corners = [points[node] for node in here]
        if len(corners) > 1:
            paths[cable.circuit] = paths.get(cable.circuit, "") + svg_path(corners)
    runs: dict[str, CircuitRuns] = {}
    for circuit in drawn.house.circuits:
        if circuit.id in nodes:
            on_it = tuple(nodes[circuit.id])
            runs[circuit.id] = CircuitRuns(circuit.id, paths.get(circuit.id, ""), on_it)
    return runs
