"""The way of a circuit from its panel to its farthest box, and the drop along it."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from inspections.checker.house.cables import Cable

from .check_messages import ROUTE_WORKING, amps
from .drop import Drop, voltage_drop


@dataclass(frozen=True)
class Route:
    """The cables of one circuit as a tree from the panel."""

    order: tuple[str, ...]
    """Its nodes, each after the one that feeds it."""
    feeder: Mapping[str, tuple[str, Cable]]
    """By node, what feeds it and through which cable."""
    reach_mm: Mapping[str, float]

    @property
    def home_run_mm(self) -> float:
        """The longest first cable."""
        first = []
        for near, c in self.feeder.values():
            if near == self.order[0]:
                first.append(c.length_mm or 0.0)
        return max(first, default=0.0)

    @property
    def far_mm(self) -> float:
        """The way to the farthest box."""
        return max(self.reach_mm.values(), default=0.0)


def route(panel: str, cables: Sequence[Cable]) -> Route | None:
    """The tree of a circuit, or None when a cable has no length or none ends at the panel."""
    if not cables or any(cable.length_mm is None for cable in cables):
        return None
    beside = defaultdict(list)
    for cable in cables:
        beside[cable.ends[0]].append((cable.ends[1], cable))
        beside[cable.ends[1]].append((cable.ends[0], cable))
    order, reach, feeder = [panel], {panel: 0.0}, {}
    for here in order:
        for there, cable in beside[here]:
            if there not in reach:
                reach[there] = reach[here] + (cable.length_mm or 0.0)
                feeder[there] = (here, cable)
                order.append(there)
    if len(order) > 1:
        return Route(tuple(order), feeder, reach)
    return None


def spread_drop(
    way: Route, outlets: Mapping[str, int], current: float, volts: float, ohms: Mapping[str, float]
) -> Drop | None:
    """The largest drop at any box, the current spread evenly over the outlets of the circuit.

    `outlets` counts them by node; where none are recorded all of the current goes to the end.
    None when a cable's size is not in the table of resistances.
    """
    if any(str(cable.awg) not in ohms for _, cable in way.feeder.values()):
        return None
    beyond = {}
    for node in way.order:
        beyond[node] = float(outlets.get(node, 0))
    if not any(beyond.values()):
        beyond[max(way.order, key=lambda node: way.reach_mm[node])] = 1.0
    for node in reversed(way.order[1:]):
        beyond[way.feeder[node][0]] += beyond[node]
    whole, at = beyond[way.order[0]], {way.order[0]: 0.0}
    for node in way.order[1:]:
        near, cable = way.feeder[node]
        part = current * beyond[node] / whole
        resistance = ohms[str(cable.awg)]
        along = voltage_drop(volts, part, cable.length_mm or 0.0, resistance)
        at[node] = at[near] + along.volts
    worst = max(at, key=lambda node: at[node])
    percent = 100 * at[worst] / volts
    words = ROUTE_WORKING(
        first=round(way.home_run_mm / 1000, 1),
        amps=amps(current),
        far=round(way.far_mm / 1000, 1),
        n=whole,
        drop=round(at[worst], 2),
        percent=round(percent, 2),
        volts=volts,
    )
    return Drop(at[worst], percent, words)
