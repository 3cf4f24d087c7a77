"""Where on the plan a finding is shown: at a place, along walls, or in its room as a whole."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from inspections.checker.asking.fixtures import in_counter
from inspections.checker.finding import Finding
from inspections.checker.geometry.wall_parts import WallPart
from inspections.checker.house import House
from inspections.checker.house.cables import Cable
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.rooms import Room
from inspections.checker.rules.outside_door_lights import DOORS, OutsideDoorLightFacts

from .geometry import OFF_WALL, Placing, Point, fixture_middle
from .named import parts_of
from .stretches import stretches_of

MARK_OFF = 80.0  # mm from the wall to the stroke over a stretch of it


class MarkKind(StrEnum):
    """How a finding is shown on the plan."""

    PLACE = "place"
    """A ring at each of its points."""
    STRETCH = "stretch"
    """A heavy line along stretches of wall or counter."""
    ROOM = "room"
    """In this room: nothing that is recorded says where, so nothing is ringed by guess."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding on the plan; points and ends of stretches in mm of the sheet."""

    key: str
    """Of the finding, and of its item."""
    room: str
    kind: MarkKind
    points: tuple[Point, ...] = ()
    stretches: tuple[tuple[Point, Point], ...] = ()
    point_rooms: tuple[str, ...] = ()
    """The room of each point."""
    walls: tuple[WallPart, ...] = ()
    """The wall of each stretch, and how much of it."""


def marks_of(house: House, findings: Iterable[Finding]) -> dict[str, Mark]:
    """One mark for every finding, by its key.

    Its room is that of the finding. Where its facts name boxes or cables of other rooms, its
    points stand there: a circuit is checked at its panel, and its receptacles are elsewhere.
    A panel, equipment wired in and an island have no place in a house file.
    """
    marking = _Marking(house)
    marks: dict[str, Mark] = {}
    for finding in findings:
        marks[finding.key] = marking.mark(finding)
    return marks


_Place = tuple[Point, str]
"""A point and the room that it is in."""


class _Marking:
    """A house by what its findings name."""

    def __init__(self, house: House) -> None:
        self.house = house
        self.placing = Placing(house)
        self.rooms: dict[str, Room] = {room.id: room for room in house.rooms}
        self.cables: dict[str, Cable] = {cable.id: cable for cable in house.cables}
        self.box_rooms: dict[str, str] = {box.id: box.room for box in house.boxes}

    def mark(self, finding: Finding) -> Mark:
        """The mark of one finding."""
        key, room = finding.key, finding.spot.room
        places = dict.fromkeys(self._places(finding))
        if places:
            points, rooms = zip(*places, strict=True)
            return Mark(key, room, MarkKind.PLACE, points, point_rooms=rooms)
        walls = stretches_of(self.rooms[room], finding)
        if walls:
            ends = tuple(self._ends(room, part) for part in walls)
            return Mark(key, room, MarkKind.STRETCH, stretches=ends, walls=tuple(walls))
        return Mark(key, room, MarkKind.ROOM)

    def _ends(self, room: str, part: WallPart) -> tuple[Point, Point]:
        side = self.placing.sides[room][part.wall]
        return side.at(part.at_mm, MARK_OFF), side.at(part.at_mm + part.width_mm, MARK_OFF)

    def _places(self, finding: Finding) -> list[_Place]:
        """The recorded places of what a finding names."""
        room = self.rooms[finding.spot.room]
        if isinstance(finding.facts, OutsideDoorLightFacts):
            return self._at_door(room, finding.subject)
        parts = parts_of(finding)
        places = self._at_boxes(parts.boxes)
        for cable in parts.cables:
            places += self._at_boxes(self._ends_in(cable, room))
        for cable in parts.cables_of_circuit:
            places += self._at_boxes(self.cables[cable].ends)
        if not parts.fixtures:
            return places
        for fixture in self._fixtures(room):
            point = fixture_middle(self.placing.sides.get(room.id, {}), fixture)
            if fixture.id in parts.fixtures and point is not None:
                places.append((point, room.id))
        return places

    def _at_boxes(self, boxes: Iterable[str]) -> list[_Place]:
        places: list[_Place] = []
        for box in boxes:
            if box in self.placing.boxes:
                places.append((self.placing.boxes[box], self.box_rooms[box]))
        return places

    def _ends_in(self, cable: str, room: Room) -> list[str]:
        """The boxes of a room at which a cable ends."""
        ends: list[str] = []
        for end in self.cables[cable].ends:
            if self.box_rooms.get(end) == room.id:
                ends.append(end)
        return ends

    def _fixtures(self, room: Room) -> list[Fixture]:
        """The fixtures of a room, and what parts its counters, by the ids that rules give it."""
        found = list(room.fixtures or ())
        for counter in self.house.counters:
            if counter.room == room.id and counter.along:
                for number, item in enumerate(counter.interruptions, 1):
                    name = f"{counter.id}.{number}"
                    found.append(in_counter(counter, name, item, FixtureKind.RANGE))
        return found

    def _at_door(self, room: Room, subject: str) -> list[_Place]:
        """The middle of an outside door, which the subject counts along its wall."""
        for wall in room.walls:
            doors = [each for each in wall.openings if each.kind in DOORS]
            for number, door in enumerate(doors, 1):
                if subject == f"{room.id}/{wall.id}.{number}":
                    side = self.placing.sides[room.id][wall.id]
                    return [(side.at(door.at_mm + door.width_mm / 2, OFF_WALL), room.id)]
        return []
