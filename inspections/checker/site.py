"""A house made ready for the rules: indexes, the wiring graph and the floor lines, once each."""

from functools import cached_property

from .finding import Spot
from .floorline import FloorLine
from .house import House
from .house.boxes import Box, OnCounter, OnFloor, OnWall
from .house.cables import Cable
from .house.rooms import Counter, OpeningKind, Room
from .rulebook import Rulebook
from .wiring import Wiring

DOORWAYS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING)


class Site:
    """What a rule is given: the house, the rulebook, and what both of them imply."""

    def __init__(self, house: House, rulebook: Rulebook) -> None:
        self.house = house
        self.rulebook = rulebook
        self.imperial = rulebook.code == "NEC"
        self.rooms = {room.id: room for room in house.rooms}
        self.boxes = {box.id: box for box in house.boxes}
        self._storeys = {storey.id: storey.name for storey in house.storeys}
        self._area_rank = {area.id: rank for rank, area in enumerate(house.areas)}
        self._room_rank = {room.id: rank for rank, room in enumerate(house.rooms)}

    @cached_property
    def wiring(self) -> Wiring:
        """The graph of boxes, panels and appliances."""
        return Wiring(self.house)

    @cached_property
    def lines(self) -> dict[str, FloorLine]:
        """The floor line of each room that has walls."""
        return {room.id: FloorLine(room) for room in self.house.rooms if room.walls}

    @cached_property
    def boxes_in(self) -> dict[str, list[Box]]:
        """The boxes of each room."""
        found: dict[str, list[Box]] = {room.id: [] for room in self.house.rooms}
        for box in self.house.boxes:
            found[box.room].append(box)
        return found

    @cached_property
    def counters_in(self) -> dict[str, list[Counter]]:
        """The counters of each room."""
        found: dict[str, list[Counter]] = {room.id: [] for room in self.house.rooms}
        for counter in self.house.counters:
            found[counter.room].append(counter)
        return found

    @cached_property
    def _wall_rank(self) -> dict[tuple[str, str], int]:
        """Each wall's turn when a person walks clockwise from the room's first doorway."""
        ranks = {}
        for room in self.house.rooms:
            door = _door_wall(room)
            for index, wall in enumerate(room.walls):
                ranks[room.id, wall.id] = (index - door) % len(room.walls)
        return ranks

    def room_spot(self, room: Room, *parts: str, order: tuple[float, ...] = ()) -> Spot:
        """A place in a room, with further words."""
        names = (self._storeys[room.storey], room.name, *parts)
        order = self._order(room.area, room.id, *order)
        return Spot(room.area, room.id, names, order, self.imperial)

    def wall_spot(
        self, room: Room, wall: str, at_mm: float, *parts: str | tuple[str, float]
    ) -> Spot:
        """A place on a room's wall."""
        names = (self._storeys[room.storey], room.name, f"wall {wall}", *parts)
        order = self._order(room.area, room.id, self._wall_rank[room.id, wall], at_mm)
        return Spot(room.area, room.id, names, order, self.imperial)

    def box_spot(self, box: Box) -> Spot:
        """Where a box is, as a person would look for it."""
        room = self.rooms[box.room]
        area = box.area or room.area
        words, order = _placed(box, self._wall_rank)
        names = (self._storeys[room.storey], room.name, *words, box.name or f"box {box.id}")
        return Spot(area, room.id, names, self._order(area, room.id, *order), self.imperial)

    def cable_spot(self, cable: Cable, room_id: str | None = None) -> Spot:
        """A cable, in the room where something was seen of it or where it ends."""
        room = self.rooms[room_id or self._end_room(cable)]
        names = (self._storeys[room.storey], room.name, f"cable {cable.id}")
        return Spot(room.area, room.id, names, self._order(room.area, room.id, 999), self.imperial)

    def _end_room(self, cable: Cable) -> str:
        far = cable.ends[1]
        if far in self.boxes:
            return self.boxes[far].room
        rooms = {panel.id: panel.room for panel in self.house.panels}
        rooms |= {appliance.id: appliance.room for appliance in self.house.appliances}
        return rooms[far]

    def _order(self, area: str, room: str, *within: float) -> tuple[float, ...]:
        return (self._area_rank[area], self._room_rank[room], *within)


def _door_wall(room: Room) -> int:
    for index, wall in enumerate(room.walls):
        if any(opening.kind in DOORWAYS for opening in wall.openings):
            return index
    return 0


def _placed(
    box: Box, wall_rank: dict[tuple[str, str], int]
) -> tuple[tuple[str | tuple[str, float], ...], tuple[float, ...]]:
    place = box.place
    if isinstance(place, OnWall):
        rank = wall_rank[box.room, place.wall]
        words: tuple[str | tuple[str, float], ...] = (
            f"wall {place.wall}",
            ("from its left end", place.at_mm),
        )
        if place.height_mm is not None:
            words = (*words, ("up", place.height_mm))
        return words, (rank, place.at_mm, place.height_mm or 0)
    if isinstance(place, OnFloor):
        rank = wall_rank[box.room, place.wall]
        return (f"floor by wall {place.wall}", ("from its left end", place.at_mm)), (
            rank,
            place.at_mm,
        )
    if isinstance(place, OnCounter):
        return (f"counter {place.counter}",), (500, place.at_mm)
    return ("ceiling" if place.surface == "ceiling" else "out of sight",), (900,)
