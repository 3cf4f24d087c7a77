"""The wiring as a graph: boxes, panels and appliances are nodes, cables are edges."""

from collections import defaultdict
from dataclasses import dataclass

from .house import House
from .house.cables import Cable


@dataclass(frozen=True, slots=True)
class Entry:
    """A cable at a node: it ends there, or passes with so much conductor left as a loop."""

    cable: Cable
    passes: bool = False
    loop_mm: float = 0


class Wiring:
    """Which cables meet at each node, and which share a hole."""

    def __init__(self, house: House) -> None:
        self.cables = {cable.id: cable for cable in house.cables}
        self._entries: defaultdict[str, list[Entry]] = defaultdict(list)
        for cable in house.cables:
            for end in cable.ends:
                self._entries[end].append(Entry(cable))
            for through in cable.through:
                self._entries[through.box].append(Entry(cable, True, through.loop_mm))

    def at(self, node: str) -> list[Entry]:
        """Every cable that ends at the node or passes it."""
        return self._entries.get(node, [])

    def power_at(self, node: str) -> list[Entry]:
        """Those of them that carry power."""
        return [entry for entry in self.at(node) if entry.cable.kind.carries_power]
