"""The fewest receptacles for each wall space, beside studs, clear of openings and fixtures."""

from collections.abc import Callable, Iterable, Iterator

from inspections.checker.asking.coverage import LineReceptacle
from inspections.checker.geometry.floor_line import FloorLine, Space
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.house.rooms import Room, Wall
from inspections.checker.rulebook import Rulebook
from inspections.checker.rules.wall_receptacles import NAME, wall_spaces
from inspections.checker.site import HouseByCode

from .places import anywhere, beside_studs, clear_of_studs, free_names, receptacle
from .proposal import Proposal, Unsolved
from .spaces import served
from .wants import USUAL, Wants


def propose_wall_receptacles(
    house: House, book: Rulebook, wants: Wants = USUAL
) -> list[Proposal | Unsolved]:
    """A proposal for each wall space that is short, in the order of the rooms.

    Studs are counted from each wall's left end. Where none of them
    serves, places between studs are tried, and the proposal says that blocking is needed.
    """
    if f"{NAME}.reach_mm" not in book:
        return []
    site = HouseByCode(house, book)
    names = free_names(house)
    proposals: list[Proposal | Unsolved] = []
    for room in house.rooms:
        if room.kind in book.value(f"{NAME}.rooms") and room.walls:
            for space, here in wall_spaces(site, room):
                if made := _space(site, room, space, here, wants, names):
                    proposals.append(made)
    return proposals


def _space(
    site: HouseByCode,
    room: Room,
    space: Space,
    here: list[LineReceptacle],
    wants: Wants,
    names: Iterator[str],
) -> Proposal | Unsolved | None:
    subject, line = f"{room.id}/{space.wall}.{space.number}", site.lines[room.id]
    height = site.house.height_mm.get(DeviceKind.RECEPTACLE, wants.receptacle_height_mm)
    most = site.rulebook.value(f"{NAME}.max_height_mm", None)
    if most is not None and height > most:
        height = wants.receptacle_height_mm

    def put(at: float) -> tuple[str, float, Box]:
        wall, from_left = line.wall_at(at)
        return wall, from_left, receptacle(room, wall, from_left, height, next(names))

    there = []
    for outlet in here:
        if outlet.counts is not False:
            there.append(outlet.at)
    options = (
        (stud_places(line, space, wants.stud_spacing_mm, height), False),
        (free_places(line, space, height), True),
    )
    return served(subject, space, there, options, site.rulebook.value(f"{NAME}.reach_mm"), put)


def stud_places(line: FloorLine, space: Space, spacing: float, height: float) -> list[float]:
    """Where a box beside a stud may stand along a space, in mm on the room's line."""
    return _free(line, space, height, lambda wall: beside_studs(wall, spacing))


def free_places(line: FloorLine, space: Space, height: float) -> list[float]:
    """Where a box may stand at all along a space, at small steps."""
    return _free(line, space, height, anywhere)


def _free(
    line: FloorLine, space: Space, height: float, places: Callable[[Wall], Iterable[float]]
) -> list[float]:
    standing: set[float] = set()
    for wall in line.room.walls:
        free = clear_of_studs(line.room, wall, height, fixtures=True)
        for at in places(wall):
            if not free(at):
                continue
            inside = line.within(space, line.position(wall.id, at))
            if inside is not None and (space.ring or space.start <= inside <= space.end):
                standing.add(inside)
    return sorted(standing)
