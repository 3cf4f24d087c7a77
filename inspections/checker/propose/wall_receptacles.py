"""The fewest receptacles for each wall space, beside studs, clear of openings and fixtures."""

from collections.abc import Iterator
from itertools import count
from math import ceil

from ..coverage import Outlet
from ..floorline import FloorLine, Space
from ..house import House
from ..house.boxes import Box, Device, DeviceKind, OnWall
from ..house.rooms import Opening, OpeningKind, Room, Wall, WallKind
from ..rulebook import Rulebook
from ..rules.wall_receptacles import NAME, wall_spaces
from ..site import Site
from .fewest import fewest, fewest_on_ring
from .proposal import Proposal, Unsolved

STUD_SPACING_MM = 406.4  # 16 in; common practice, no source
BESIDE_MM = 47.0  # a box's centre from a stud's: half of 38 and of 57; common practice, no source
FRAMING_MM = 104.0  # from an opening past its two studs to a box's centre; the same
HALF_BOX_MM = 29.0  # half the width of a one-gang box; the same
BETWEEN_MM = 10.0  # between places tried where no stud serves
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
    names = _names(house)
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
    subject = f"{room.id}/{space.wall}.{space.number}"
    if space.doubts:
        missing = ", ".join(f"{each.missing} at {each.where}" for each in space.doubts)
        return Unsolved(subject, f"nobody recorded: {missing}; record it first")
    height = site.house.height_mm.get(DeviceKind.RECEPTACLE, USUAL_HEIGHT_MM)
    most = site.rulebook.value(f"{NAME}.max_height_mm", None)
    if most is not None and height > most:
        return Unsolved(subject, f"the shop's height of {height:g} mm does not count here")
    reach = site.rulebook.value(f"{NAME}.reach_mm")
    there = [outlet.at for outlet in here if outlet.counts is not False]
    line, blocking = site.lines[room.id], False
    places = stud_places(line, space, spacing, height)
    chosen = _chosen(space, there, places, reach)
    if chosen is None:
        places, blocking = free_places(line, space, height), True
        chosen = _chosen(space, there, places, reach)
    if chosen is None:
        return Unsolved(subject, "no free wall within reach; a receptacle in the floor may serve")
    if not chosen:
        return None
    spots = [line.wall_at(at) for at in chosen]
    boxes = tuple(_box(room, wall, at, height, next(names)) for wall, at in spots)
    told = "; ".join(f"wall {wall}, {at:,.0f} mm from its left end" for wall, at in spots)
    says = f"{len(boxes)} more: {told}" + (" (between studs: needs blocking)" if blocking else "")
    return Proposal(subject, boxes, says, _proof(space, there, places, reach, len(boxes)))


def _chosen(
    space: Space, there: list[float], places: list[float], reach: float
) -> tuple[float, ...] | None:
    if space.ring:
        return fewest_on_ring(space.length, there, places, reach)
    return fewest(space.start, space.end, there, places, reach)


def _proof(space: Space, there: list[float], places: list[float], reach: float, count: int) -> str:
    bound = ceil(space.length / (2 * reach) - 1e-9)
    said = (
        f"every choice among {len(places)} places was weighed, with {len(there)} receptacles "
        f"there: none with {count - 1} more serves it"
    )
    if not there and bound == count:
        said += f"; {space.length:,.0f} mm at {2 * reach:,.0f} mm a receptacle asks for {bound}"
    return said


def stud_places(line: FloorLine, space: Space, spacing: float, height: float) -> list[float]:
    """Where a box beside a stud may stand along a space, in mm on the room's line."""

    def beside(wall: Wall) -> Iterator[float]:
        studs = [spacing * n for n in range(int(wall.length_mm / spacing) + 1)]
        for stud in (*studs, wall.length_mm):
            yield stud - BESIDE_MM
            yield stud + BESIDE_MM
        for opening in wall.openings:
            yield opening.at_mm - FRAMING_MM
            yield opening.at_mm + opening.width_mm + FRAMING_MM

    return _free(line, space, height, {wall.id: list(beside(wall)) for wall in line.room.walls})


def free_places(line: FloorLine, space: Space, height: float) -> list[float]:
    """Where a box may stand at all along a space, at small steps."""
    every = {
        wall.id: [BETWEEN_MM * n for n in range(int(wall.length_mm / BETWEEN_MM) + 1)]
        for wall in line.room.walls
    }
    return _free(line, space, height, every)


def _free(
    line: FloorLine, space: Space, height: float, places: dict[str, list[float]]
) -> list[float]:
    found = set()
    for wall in line.room.walls:
        if wall.kind is not WallKind.WALL:
            continue
        taken = [*_taken(line.room, wall, height)]
        for at in places[wall.id]:
            if not HALF_BOX_MM <= at <= wall.length_mm - HALF_BOX_MM:
                continue
            if any(left < at < right for left, right in taken):
                continue
            inside = line.within(space, line.position(wall.id, at))
            if inside is not None and (space.ring or space.start <= inside <= space.end):
                found.add(inside)
    return sorted(found)


def _taken(room: Room, wall: Wall, height: float) -> Iterator[tuple[float, float]]:
    """The stretches of a wall in which no box can stand: from, to."""
    for opening in wall.openings:
        if _in_the_way(opening, height):
            left, right = opening.at_mm, opening.at_mm + opening.width_mm
            yield left - FRAMING_MM, right + FRAMING_MM
    for fixture in room.fixtures or ():
        if fixture.wall == wall.id and fixture.at_mm is not None:
            yield (
                fixture.at_mm - HALF_BOX_MM,
                fixture.at_mm + (fixture.width_mm or 0) + HALF_BOX_MM,
            )


def _in_the_way(opening: Opening, height: float) -> bool:
    """Whether a box at that height would stand in an opening; one under a high sill does not."""
    high = opening.kind is OpeningKind.WINDOW and opening.sill_mm is not None
    return not (high and (opening.sill_mm or 0) >= height + FRAMING_MM)


def _names(house: House) -> Iterator[str]:
    """Names that nothing in the wiring has yet."""
    taken = {each.id for each in house.boxes} | {each.id for each in house.panels}
    taken |= {each.id for each in house.appliances}
    return (name for n in count(1) if (name := f"new-{n}") not in taken)


def _box(room: Room, wall: str, at: float, height: float, name: str) -> Box:
    place = OnWall(surface="wall", wall=wall, at_mm=round(at, 3), height_mm=height)
    return Box(id=name, room=room.id, place=place, devices=(Device(kind=DeviceKind.RECEPTACLE),))
