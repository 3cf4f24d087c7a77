"""A house made ready for the rules: indexes, the wiring graph and the floor lines, once each."""

from collections.abc import Callable, Sequence
from copy import copy
from dataclasses import replace
from functools import cached_property

from config.messages.message import Length, Text, Value
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.plan import RoomPlan
from inspections.checker.geometry.wall_parts import WallPart
from inspections.checker.graph.lights import Lights, is_light
from inspections.checker.graph.supply import Supply
from inspections.checker.graph.wiring import Wiring

from .facts import digest, facts_json
from .house import House
from .house.boxes import Box, DeviceKind, OnCeiling, OnCounter, OnFloor, OnWall
from .house.cables import Cable
from .house.power import Circuit, Panel
from .house.rooms import Counter, OpeningKind, Room, RoomKind
from .rulebook import Rulebook
from .spot import (
    BOX,
    CABLE,
    CEILING,
    CIRCUIT,
    COUNTER,
    FLOOR_BY_WALL,
    FROM_LEFT,
    HOLE,
    OUT_OF_SIGHT,
    PANEL,
    UP,
    WALL,
    Spot,
)

DOORWAYS = frozenset({OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING})

# After the walls of a room, in the order of a walk: what stands free in it, what is overhead or
# out of sight, holes, cables.
FREE, OVERHEAD, HOLES, CABLES = 1e7, 2e7, 3e7, 4e7

STOREY_AND_ROOM = ("storey", "room")
"""What the parts of every place in a room begin with."""


def from_left(mm: float) -> Text:
    """So far from the left end of a wall."""
    return FROM_LEFT(length=Length(mm))


def holds_receptacle(box: Box) -> bool:
    """Whether any device in the box is a receptacle."""
    for device in box.devices:
        if device.kind is DeviceKind.RECEPTACLE:
            return True
    return False


class HouseByCode:
    """What a rule is given: the house, the rulebook, and what both of them imply."""

    def __init__(self, house: House, rulebook: Rulebook) -> None:
        self.house = house
        self.rulebook = rulebook
        self.imperial = rulebook.code == "NEC"
        self.rooms = {room.id: room for room in house.rooms}
        self.boxes = {box.id: box for box in house.boxes}
        self.circuits = {circuit.id: circuit for circuit in house.circuits}
        self._storeys = {storey.id: storey.name for storey in house.storeys}
        self._area_rank = {area.id: rank for rank, area in enumerate(house.areas)}
        self._room_rank = {room.id: rank for rank, room in enumerate(house.rooms)}
        self._spots: dict[tuple[str, str], Spot] = {}
        self.asked: tuple[Room, ...] = house.rooms
        """The rooms that a rule of scope `PLACED` speaks about."""

    def narrowed(self, rooms: frozenset[str]) -> "HouseByCode":
        """The same site for a rule that speaks about one room after another: only about these."""
        _ = self.supply  # made once for both
        narrow = copy(self)
        narrow.asked = tuple(room for room in self.house.rooms if room.id in rooms)
        return narrow

    @cached_property
    def wiring(self) -> Wiring:
        """The graph of boxes, panels and appliances."""
        return Wiring(self.house)

    @cached_property
    def supply(self) -> Supply:
        """What is on each circuit."""
        return Supply(self.house, self.wiring)

    @cached_property
    def panels(self) -> dict[str, Panel]:
        """The panels by id."""
        panels: dict[str, Panel] = {}
        for panel in self.house.panels:
            panels[panel.id] = panel
        return panels

    @cached_property
    def lights(self) -> Lights:
        """The lights and what switches them."""
        return Lights(self.house, self.wiring)

    @cached_property
    def lines(self) -> dict[str, FloorLine]:
        """The floor line of each room that has walls."""
        lines: dict[str, FloorLine] = {}
        for room in self.house.rooms:
            if room.walls:
                lines[room.id] = FloorLine(room)
        return lines

    @cached_property
    def plans(self) -> dict[str, RoomPlan]:
        """The plan of each room that has walls."""
        plans: dict[str, RoomPlan] = {}
        for name, line in self.lines.items():
            plans[name] = RoomPlan(line.room, line)
        return plans

    @cached_property
    def boxes_in(self) -> dict[str, list[Box]]:
        """The boxes of each room."""
        by_room: dict[str, list[Box]] = {}
        for room in self.house.rooms:
            by_room[room.id] = []
        for box in self.house.boxes:
            by_room[box.room].append(box)
        return by_room

    @cached_property
    def rooms_on(self) -> dict[str, list[Room]]:
        """The rooms of each storey that has any, from the lowest up."""
        every: dict[str, list[Room]] = {}
        for storey in self._storeys:
            every[storey] = []
        for room in self.house.rooms:
            every[room.storey].append(room)
        by_storey: dict[str, list[Room]] = {}
        for storey, rooms in every.items():
            if rooms:
                by_storey[storey] = rooms
        return by_storey

    def storey_name(self, storey: str) -> str:
        """What a storey is called."""
        return self._storeys[storey]

    @cached_property
    def receptacles_in(self) -> dict[str, list[Box]]:
        """The boxes of each room that hold a receptacle."""
        by_room: dict[str, list[Box]] = {}
        for room in self.house.rooms:
            by_room[room.id] = []
        for box in self.house.boxes:
            if holds_receptacle(box):
                by_room[box.room].append(box)
        return by_room

    @cached_property
    def equipped(self) -> frozenset[str]:
        """The rooms in which equipment or a panel stands."""
        rooms = set()
        for appliance in self.house.appliances:
            rooms.add(appliance.room)
        for panel in self.house.panels:
            rooms.add(panel.room)
        return frozenset(rooms)

    @cached_property
    def lights_outdoors(self) -> bool:
        """Whether any lighting outlet is outdoors."""
        outdoors = (RoomKind.OUTDOORS, RoomKind.PORCH)
        for box in self.house.boxes:
            if is_light(box) and self.rooms[box.room].kind in outdoors:
                return True
        return False

    @cached_property
    def counters_in(self) -> dict[str, list[Counter]]:
        """The counters of each room."""
        by_room: dict[str, list[Counter]] = {}
        for room in self.house.rooms:
            by_room[room.id] = []
        for counter in self.house.counters:
            by_room[counter.room].append(counter)
        return by_room

    @cached_property
    def _doors(self) -> dict[str, float]:
        """Where a walk round each room begins: the right side of its first doorway."""
        doors: dict[str, float] = {}
        for name, line in self.lines.items():
            doors[name] = _first_door(line)
        return doors

    def _walk(self, room: str, wall: str, at_mm: float) -> float:
        """How far a person has walked clockwise from the door to a point of a wall."""
        line, position = self.lines[room], self.lines[room].position(wall, at_mm)
        if line.room.closed:
            return (position - self._doors[room]) % line.length
        return position

    def room_spot(self, room: Room) -> Spot:
        """A room as a whole."""
        return self._kept("room", room.id, lambda: self._spot(room, room.area, (), ()))

    def house_spot(self, *parts: Value) -> Spot:
        """The house as a whole, said with its first area and room."""
        room = self.house.rooms[0]
        return Spot(room.area, room.id, parts, (-1.0,), self.imperial)

    def wall_spot(
        self, room: Room, wall: str, at_mm: float, *parts: Value, walls: Sequence[WallPart] = ()
    ) -> Spot:
        """A place on a room's wall; `walls` are those that it may go on along."""
        order = (self._walk(room.id, wall, at_mm),)
        spot = self._spot(room, room.area, (WALL(wall=wall), *parts), order)
        return replace(spot, walls=tuple(walls))

    def box_spot(self, box: Box) -> Spot:
        """Where a box is, as a person would look for it."""
        return self._kept("box", box.id, lambda: self._box_spot(box))

    def _box_spot(self, box: Box) -> Spot:
        room, place = self.rooms[box.room], box.place
        name = box.name or BOX(box=box.id)
        parts: tuple[Value, ...]
        order: tuple[float, ...]
        if isinstance(place, OnWall):
            parts = (WALL(wall=place.wall), from_left(place.at_mm))
            if place.height_mm is not None:
                parts = (*parts, UP(length=Length(place.height_mm)))
            order = (self._walk(box.room, place.wall, place.at_mm), place.height_mm or 0.0)
        elif isinstance(place, OnFloor):
            parts = (FLOOR_BY_WALL(wall=place.wall), from_left(place.at_mm))
            order = (self._walk(box.room, place.wall, place.at_mm),)
        elif isinstance(place, OnCounter):
            parts, order = (COUNTER(counter=place.counter),), (FREE, place.at_mm or 0.0)
        else:
            where = OUT_OF_SIGHT
            if isinstance(place, OnCeiling):
                where = CEILING
            parts, order = (where(),), (OVERHEAD,)
        return self._spot(room, box.area or room.area, (*parts, name), order)

    def free_spot(self, room: Room, *parts: Value) -> Spot:
        """Something that stands free in a room."""
        return self._spot(room, room.area, parts, (FREE,))

    def panel_spot(self, panel: Panel, *parts: Value) -> Spot:
        """A panel, or something at it."""
        return self.free_spot(self.rooms[panel.room], PANEL(panel=panel.id), *parts)

    def circuit_spot(self, circuit: Circuit) -> Spot:
        """A circuit, where its breaker is."""
        panel = self.panels[circuit.panel]
        name = CIRCUIT(circuit=circuit.name)
        return self._kept("circuit", circuit.id, lambda: self.panel_spot(panel, name))

    def hole_spot(self, room: Room, hole: str) -> Spot:
        """A hole in the framing of a room."""
        return self.part_spot(room, HOLE(hole=hole))

    def part_spot(self, room: Room, *parts: Value) -> Spot:
        """Something in the framing of a room: a hole, a staple, a bundle of cables."""
        return self._spot(room, room.area, parts, (HOLES,))

    def cable_spot(self, cable: Cable, room_id: str | None = None) -> Spot:
        """A cable, in the room where something was seen of it or where it ends."""
        room = self.rooms[room_id or self._nodes[cable.ends[1]]]
        parts = (CABLE(cable=cable.id),)
        return self._kept(room.id, cable.id, lambda: self._spot(room, room.area, parts, (CABLES,)))

    def _kept(self, kind: str, name: str, make: Callable[[], Spot]) -> Spot:
        """Rules speak of the same places again and again; each is made once."""
        found = self._spots.get((kind, name))
        if found is None:
            found = self._spots[kind, name] = make()
        return found

    @cached_property
    def rooms_of(self) -> dict[str, tuple[str, ...]]:
        """The rooms in which each cable ends, each room once."""
        nodes = self._nodes
        by_cable: dict[str, tuple[str, ...]] = {}
        for cable in self.house.cables:
            ends_in = {}
            for end in cable.ends:
                ends_in[nodes[end]] = True
            by_cable[cable.id] = tuple(ends_in)
        return by_cable

    @cached_property
    def stands(self) -> dict[str, str]:
        """A digest of where each box stands and how wide it is: what a look at it rests on."""
        stands: dict[str, str] = {}
        for box in self.house.boxes:
            rests_on = (box.id, box.gangs, *box.place.__dict__.values())
            stands[box.id] = digest(facts_json(rests_on))
        return stands

    @cached_property
    def ends(self) -> dict[str, str]:
        """A digest of where each cable ends: what a look at it in a room rests on."""
        ends: dict[str, str] = {}
        for cable in self.house.cables:
            ends[cable.id] = digest((cable.id, cable.ends, None))
        return ends

    @cached_property
    def runs(self) -> dict[str, str]:
        """The same with its length, where a cable ends last: a change of it is verified there."""
        runs: dict[str, str] = {}
        for cable in self.house.cables:
            runs[cable.id] = digest(facts_json((cable.id, cable.ends, cable.length_mm)))
        return runs

    @cached_property
    def _nodes(self) -> dict[str, str]:
        house = self.house
        rooms = {}
        for box in house.boxes:
            rooms[box.id] = box.room
        for panel in house.panels:
            rooms[panel.id] = panel.room
        for appliance in house.appliances:
            rooms[appliance.id] = appliance.room
        return rooms

    def _spot(
        self, room: Room, area: str, parts: tuple[Value, ...], within: tuple[float, ...]
    ) -> Spot:
        names = (self._storeys[room.storey], room.name, *parts)
        order = (self._area_rank[area], self._room_rank[room.id], *within)
        return Spot(area, room.id, names, order, self.imperial)


def _first_door(line: FloorLine) -> float:
    for wall in line.room.walls:
        for opening in wall.openings:
            if opening.kind in DOORWAYS:
                return line.position(wall.id, opening.at_mm + opening.width_mm)
    return 0.0
