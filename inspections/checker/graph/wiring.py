"""The wiring as a graph: boxes, panels and appliances are nodes, cables are edges."""

from collections import defaultdict
from typing import NamedTuple

from inspections.checker.house import House
from inspections.checker.house.cables import Cable


class Entry(NamedTuple):
    """A cable at a node: it ends there, or passes with so much conductor left as a loop."""

    cable: Cable
    passes: bool = False
    loop_mm: float = 0.0


class Wiring:
    """Which cables meet at each node. Built in one pass over the cables."""

    def __init__(self, house: House) -> None:
        self.cables = {cable.id: cable for cable in house.cables}
        self._power: defaultdict[str, list[Entry]] = defaultdict(list)
        self._other: defaultdict[str, list[Entry]] = defaultdict(list)
        for cable in house.cables:
            entries = self._other
            if cable.kind.carries_power:
                entries = self._power
            ending = Entry(cable)
            for end in cable.ends:
                entries[end].append(ending)
            for through in cable.through:
                entries[through.box].append(Entry(cable, True, through.loop_mm))

    def at(self, node: str) -> list[Entry]:
        """Every cable that ends at the node or passes it."""
        return [*self.power_at(node), *self._other.get(node, ())]

    def power_at(self, node: str) -> list[Entry]:
        """Those of them that carry power."""
        return self._power.get(node, [])
