"""Stretches of wall that a finding is about, each on its own wall, also where one goes on round
corners."""

from collections.abc import Mapping
from dataclasses import dataclass

from inspections.checker.asking.coverage import LineFacts
from inspections.checker.finding import Finding, Verdict
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.rooms import Counter, Room
from inspections.checker.rules.foyer_receptacles import BREAKS, FoyerFacts
from inspections.checker.rules.hallway_receptacles import HallwayReach


@dataclass(frozen=True, slots=True)
class WallPart:
    """A part of one wall, from its left end."""

    wall: str
    at_mm: float
    width_mm: float


def stretches_of(house: House, finding: Finding) -> list[WallPart]:
    """The walls that a finding leaves out of reach, or is about; empty when about none.

    What goes round a corner is a part of each of its walls.
    """
    room = {room.id: room for room in house.rooms}[finding.spot.room]
    facts = finding.facts
    if isinstance(facts, HallwayReach):
        if finding.verdict is Verdict.OK:
            return []
        return [WallPart(far.wall, far.from_mm, far.to_mm - far.from_mm) for far in facts.far]
    if not room.walls:
        return []
    if isinstance(facts, FoyerFacts):
        return _foyer(room, finding.subject)
    if not isinstance(facts, LineFacts):
        return []
    lengths = _lengths(room, _counter(house, finding))
    if not facts.gaps:
        return along(lengths, WallPart(facts.wall, facts.at_mm, facts.space_mm))
    parts: list[WallPart] = []
    for gap in facts.gaps:
        parts += along(lengths, WallPart(gap.wall, gap.at_mm, gap.width_mm))
    return parts


def along(walls: list[WallPart], start: WallPart) -> list[WallPart]:
    """A length that starts on a wall, cut where one wall ends and the next begins."""
    index = _first(walls, start)
    if index is None:
        return []
    parts: list[WallPart] = []
    at, rest = start.at_mm, start.width_mm
    for turn in range(len(walls) + 1):
        wall = walls[(index + turn) % len(walls)]
        if turn:
            at = wall.at_mm
        width = min(rest, wall.at_mm + wall.width_mm - at)
        if width > EPSILON:
            parts.append(WallPart(wall.wall, at, width))
        rest -= width
        if rest <= EPSILON:
            break
    return parts


def _first(walls: list[WallPart], start: WallPart) -> int | None:
    for index, wall in enumerate(walls):
        end = wall.at_mm + wall.width_mm
        if wall.wall == start.wall and wall.at_mm - EPSILON <= start.at_mm <= end + EPSILON:
            return index
    return None


def _lengths(room: Room, counter: Counter | None) -> list[WallPart]:
    """What is walked from left to right: the walls of a room, or those behind a counter."""
    if counter is None:
        return [WallPart(wall.id, 0.0, wall.length_mm) for wall in room.walls]
    return [WallPart(each.wall, each.at_mm, each.width_mm) for each in counter.along]


def _counter(house: House, finding: Finding) -> Counter | None:
    """The counter that a finding of the counter rule is about: its subject is that and a space."""
    if finding.rule.id != "counter-receptacles":
        return None
    name, _, _ = finding.subject.rpartition(".")
    counters: Mapping[str, Counter] = {counter.id: counter for counter in house.counters}
    return counters.get(name)


def _foyer(room: Room, subject: str) -> list[WallPart]:
    """The wall space of an entry, which its subject names by the wall it begins on."""
    line = FloorLine(room)
    for space in line.spaces(BREAKS):
        if subject == f"{room.id}/{space.wall}.{space.number}":
            wall, at = line.wall_at(space.start)
            return along(_lengths(room, None), WallPart(wall, at, space.length))
    return []
