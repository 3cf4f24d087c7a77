"""The fewest receptacles for each wall space, beside studs, clear of openings and fixtures."""

from collections.abc import Callable, Iterable, Iterator

from ..checker.coverage import Outlet
from ..checker.floorline import FloorLine, Space
from ..checker.house import House
from ..checker.house.boxes import Box, DeviceKind
from ..checker.house.rooms import Room, Wall
from ..checker.rulebook import Rulebook
from ..checker.rules.wall_receptacles import NAME, wall_spaces
from ..checker.site import Site
from .places import STUD_SPACING_MM, anywhere, beside_studs, clear, free_names, receptacle
from .proposal import Proposal, Unsolved
from .spaces import served

USUAL_HEIGHT_MM = 300.0  # when the shop's own is not recorded; common practice, no source


def propose_wall_receptacles(
    house: House, book: Rulebook, spacing_mm: float = STUD_SPACING_MM
) -> list[Proposal | Unsolved]:
    """A proposal for each wall space that is short, in the order of the rooms.

    Studs are counted from each wall's left end at the spacing given, in mm. Where none of them
    serves, places between studs are tried, and the proposal says that blocking is needed.
    """
    if f"{NAME}.reach_mm" not in book:
        return []
    site = Site(house, book)
    names = free_names(house)
    return [
        made
        for room in house.rooms
        if room.kind in book.value(f"{NAME}.rooms") and room.walls
        for space, here in wall_spaces(site, room)
        if (made := _space(site, room, space, here, spacing_mm, names))
    ]


def _space(
    site: Site, room: Room, space: Space, here: list[Outlet], spacing: float, names: Iterator[str]
) -> Proposal | Unsolved | None:
    subject, line = f"{room.id}/{space.wall}.{space.number}", site.lines[room.id]
    height = site.house.height_mm.get(DeviceKind.RECEPTACLE, USUAL_HEIGHT_MM)
    most = site.rulebook.value(f"{NAME}.max_height_mm", None)
    if most is not None and height > most:
        height = USUAL_HEIGHT_MM

    def put(at: float) -> tuple[str, float, Box]:
        wall, from_left = line.wall_at(at)
        return wall, from_left, receptacle(room, wall, from_left, height, next(names))

    there = [outlet.at for outlet in here if outlet.counts is not False]
    options = (
        (stud_places(line, space, spacing, height), False),
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
    found = set()
    for wall in line.room.walls:
        free = clear(line.room, wall, height, fixtures=True)
        for at in places(wall):
            inside = line.within(space, line.position(wall.id, at)) if free(at) else None
            if inside is not None and (space.ring or space.start <= inside <= space.end):
                found.add(inside)
    return sorted(found)
