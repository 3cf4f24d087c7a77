"""Where on site something is, in words and in the order of walking."""

from dataclasses import dataclass

from config.messages.message import Joined, Value, message
from config.messages.saying import ENGLISH, METRIC, said

WALL = message("place.wall", "wall {wall}")
FLOOR_BY_WALL = message("place.floor-by-wall", "floor by wall {wall}")
FROM_LEFT = message("place.from-left", "{length} from its left end", pointing=True)
ALONG_COUNTER = message("place.along", "{length} along it", pointing=True)
UP = message("place.up", "{length} up", pointing=True)
COUNTER = message("place.counter", "counter {counter}")
ISLAND = message("place.island", "island {counter}")
PENINSULA = message("place.peninsula", "peninsula {counter}")
CEILING = message("place.ceiling", "ceiling")
OUT_OF_SIGHT = message("place.out-of-sight", "out of sight")
OUTDOORS = message("place.outdoors", "outdoors")
BOX = message("place.box", "box {box}")
PANEL = message("place.panel", "panel {panel}")
CIRCUIT = message("place.circuit", "circuit {circuit}")
HOLE = message("place.hole", "hole {hole}")
STAPLE = message("place.staple", "staple {staple}")
CABLE = message("place.cable", "cable {cable}")


@dataclass(frozen=True, slots=True)
class Spot:
    """Where on site: the area and room, parts of the place, and the order of walking.

    A bare string among the parts is what somebody called it, or an id.
    """

    area: str
    room: str
    parts: tuple[Value, ...]
    order: tuple[float, ...] = ()
    imperial: bool = False
    walls: tuple[tuple[str, float, float], ...] = ()
    """Of a place along walls: those that it may go on along, from left to right, each with where
    it begins and how much of it there is."""

    @property
    def text(self) -> Joined:
        """The place as a person on site would say it, from the storey inwards."""
        return Joined(self.parts, ", ")

    @property
    def words(self) -> str:
        """The same in English."""
        reader = METRIC
        if self.imperial:
            reader = ENGLISH
        return said(self.text, reader)
