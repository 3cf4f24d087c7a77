"""The fewest receptacles for each space of a counter along walls, above its top."""

from collections.abc import Callable, Iterable, Iterator

from inspections.checker.asking.counters import NAME, CounterLine
from inspections.checker.asking.coverage import LineReceptacle
from inspections.checker.geometry.floor_line import Space
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.boxes import Box
from inspections.checker.house.rooms import Counter, CounterKind, Room, Wall
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .fewest import fewest
from .places import (
    HALF_BOX_MM,
    anywhere,
    beside_studs,
    clear_of_studs,
    free_names,
    receptacle,
)
from .proposal import Proposal, Unsolved
from .spaces import served
from .wants import USUAL, Wants

ABOVE_MM = 200.0  # from the top to the centre of the box; common practice, no source


def propose_counter_receptacles(
    house: House, book: Rulebook, wants: Wants = USUAL
) -> list[Proposal | Unsolved]:
    """A proposal for each space of a wall counter that is short; islands are not looked at."""
    if f"{NAME}.reach_mm" not in book:
        return []
    site = HouseByCode(house, book)
    names = free_names(house)
    proposals: list[Proposal | Unsolved] = []
    for room in house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        for counter in site.counters_in[room.id]:
            if counter.kind is CounterKind.WALL:
                proposals.extend(_counter(site, room, counter, wants.stud_spacing_mm, names))
    return proposals


def _counter(
    site: HouseByCode, room: Room, counter: Counter, spacing: float, names: Iterator[str]
) -> Iterator[Proposal | Unsolved]:
    book, line = site.rulebook, CounterLine(counter, site.rulebook)
    reach, least = book.value(f"{NAME}.reach_mm"), book.value(f"{NAME}.min_width_mm")
    outlets = list(line.outlets(site.receptacles_in[room.id]))
    if any(outlet.reason and outlet.reason[0] == "along" for outlet in outlets):
        yield Unsolved(counter.id, says.NO_PLACE_ALONG())
        return
    for space in line.spaces():
        if space.length < least - EPSILON:
            continue
        subject = f"{counter.id}.{space.number}"
        there = _counting_in(space, outlets)
        if counter.top_mm is None:
            # Without its height nothing that is added would surely count.
            if space.doubts or fewest(space.start, space.end, there, (), reach) is None:
                yield Unsolved(subject, says.NO_TOP())
            continue
        height = counter.top_mm + ABOVE_MM

        def put(at: float, height: float = height) -> tuple[str, float, Box]:
            wall, from_left = line.wall_at(at)
            return wall, from_left, receptacle(room, wall, from_left, height, next(names))

        options = (
            (counter_places(room, counter, space, height, _studs(spacing)), False),
            (counter_places(room, counter, space, height, anywhere), True),
        )
        if proposal := served(subject, space, there, options, reach, put):
            yield proposal


def _counting_in(space: Space, outlets: Iterable[LineReceptacle]) -> list[float]:
    """Where in a space receptacles stand that count, or may count."""
    there: list[float] = []
    for outlet in outlets:
        inside = space.start - EPSILON <= outlet.at <= space.end + EPSILON
        if inside and outlet.counts is not False:
            there.append(outlet.at)
    return there


def _studs(spacing: float) -> Callable[[Wall], Iterable[float]]:
    return lambda wall: beside_studs(wall, spacing)


def counter_places(
    room: Room,
    counter: Counter,
    space: Space,
    height: float,
    places: Callable[[Wall], Iterable[float]],
) -> list[float]:
    """Where a box may stand along a space, in mm on the counter's line, never behind a fixture."""
    walls = {wall.id: wall for wall in room.walls}
    open_places, start = set(), 0.0
    for stretch in counter.along:
        wall = walls[stretch.wall]
        free = clear_of_studs(room, wall, height, fixtures=False)
        for at in places(wall):
            along = start + at - stretch.at_mm
            inside = 0 <= at - stretch.at_mm <= stretch.width_mm - 2 * EPSILON
            if not inside or not space.start <= along <= space.end or not free(at):
                continue
            if not _interrupted(counter, along):
                open_places.add(along)
        start += stretch.width_mm
    return sorted(open_places)


def _interrupted(counter: Counter, along: float) -> bool:
    """Whether a box there would stand behind what interrupts the counter."""
    for item in counter.interruptions:
        if item.at_mm - HALF_BOX_MM < along < item.at_mm + item.width_mm + HALF_BOX_MM:
            return True
    return False
