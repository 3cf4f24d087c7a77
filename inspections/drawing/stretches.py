"""Stretches of wall that a finding is about, each on its own wall, also where one goes on round
corners."""

from inspections.checker.asking.coverage import LineFacts
from inspections.checker.finding import Finding, Verdict
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.geometry.wall_parts import WallPart, along_walls, walls_of
from inspections.checker.house.rooms import Room
from inspections.checker.rules.foyer_receptacles import BREAKS, FoyerFacts
from inspections.checker.rules.hallway_receptacles import HallwayReach


def stretches_of(room: Room, finding: Finding) -> list[WallPart]:
    """The walls of its room that a finding leaves out of reach, or is about; empty for none."""
    facts = finding.facts
    if isinstance(facts, HallwayReach):
        if finding.verdict is Verdict.OK:
            return []
        return [WallPart(far.wall, far.from_mm, far.to_mm - far.from_mm) for far in facts.far]
    if isinstance(facts, FoyerFacts):
        return _foyer(room, finding.subject)
    if not isinstance(facts, LineFacts):
        return []
    if not facts.gaps:
        return along_walls(finding.spot.walls, facts.wall, facts.at_mm, facts.space_mm)
    parts: list[WallPart] = []
    for gap in facts.gaps:
        parts += along_walls(finding.spot.walls, gap.wall, gap.at_mm, gap.width_mm)
    return parts


def _foyer(room: Room, subject: str) -> list[WallPart]:
    """The wall space of an entry, which its subject names by the wall it begins on."""
    line = FloorLine(room)
    for space in line.spaces(BREAKS):
        if subject == f"{room.id}/{space.wall}.{space.number}":
            wall, at = line.wall_at(space.start)
            return along_walls(walls_of(room), wall, at, space.length)
    return []
