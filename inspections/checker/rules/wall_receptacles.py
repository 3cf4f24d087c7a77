"""Receptacles along the walls of rooms people live in."""

from collections.abc import Iterator, Sequence

from config.messages.message import message
from inspections.checker.asking.coverage import (
    LeftOutWhy,
    LineFacts,
    LineReceptacle,
    judge,
    space_figures,
)
from inspections.checker.asking.line_fixes import line_fixes
from inspections.checker.asking.line_sentences import LineWords, tell_line
from inspections.checker.asking.receptacles import YES, Counts, count_at_most, for_general_use
from inspections.checker.asking.unrecorded import Absent, Unrecorded, unrecorded_words
from inspections.checker.geometry.floor_line import Breaks, FloorLine, Space
from inspections.checker.geometry.intervals import Interval
from inspections.checker.geometry.wall_parts import walls_of

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, OnFloor, OnWall
from ..house.rooms import OpeningKind, Room
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode, from_left

NAME = "wall-receptacles"
DUST = 0.01  # mm


WORDS = LineWords(
    gap=message(
        f"{NAME}.gap",
        "{n} stretches of wall with no receptacle within {limit}; the longest is {figure}.",
        one="{figure} of wall with no receptacle within {limit}.",
    ),
    round_corner=message(
        f"{NAME}.round-corner", "{figure} of wall with no receptacle within {limit}: {parts}."
    ),
    reached=message(
        f"{NAME}.reached", "Every point of this wall is within {limit} of a receptacle."
    ),
    space=message(f"{NAME}.space", "Wall space: {figure} without a break."),
)


def tell(finding: Finding) -> FindingWords:
    """The space, its receptacles and what they leave out of reach."""
    if isinstance(finding.facts, Unrecorded):
        return unrecorded_words(finding.facts)
    return tell_line(finding, WORDS)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles along walls",
    tell=tell,
    scope=Scope.ROOM,
    facts=LineFacts | Unrecorded,
    fixes=line_fixes,
)
def wall_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No point of an unbroken wall space may lie farther from a receptacle than the reach.

    Spaces run round corners and end at doorways, fireplaces, full-height cabinets, counters and
    whatever else the code names; the shortest need none. Receptacles that are too high, in a
    cabinet, for one appliance, or in the floor away from the wall do not count.
    """
    book = site.rulebook
    if f"{NAME}.reach_mm" not in book:
        return
    for room in site.house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        if room.walls:
            yield from _room(this, site, room)
        else:
            limits = (book[f"{NAME}.reach_mm"], book[f"{NAME}.rooms"])
            facts = Unrecorded(Absent.WALLS)
            yield Finding(this, room.id, Verdict.INFO_NEEDED, site.room_spot(room), facts, limits)


def _breaks(book: Rulebook) -> Breaks:
    kinds = []
    for kind in book.value(f"{NAME}.breaks"):
        kinds.append(OpeningKind(kind))
    return Breaks(
        frozenset(kinds),
        door_leaf=book.value(f"{NAME}.door_leaf", False),
        window_to_floor=book.value(f"{NAME}.window_to_floor", False),
        railing=book.value(f"{NAME}.railing", False),
    )


def wall_spaces(site: HouseByCode, room: Room) -> Iterator[tuple[Space, list[LineReceptacle]]]:
    """The wall spaces of a room that the code asks about, and the receptacles along each."""
    book, line = site.rulebook, site.lines[room.id]
    least = book.value(f"{NAME}.min_width_mm")
    outlets = list(_outlets(site, room, line))
    for space in line.spaces(_breaks(book), _counters(site, room, line)):
        if space.length >= least - DUST:
            yield space, list(_here(space, line, outlets))


def _room(this: Rule, site: HouseByCode, room: Room) -> Iterator[Finding]:
    book, line = site.rulebook, site.lines[room.id]
    least, reach = book.value(f"{NAME}.min_width_mm"), book.value(f"{NAME}.reach_mm")
    for space, here in wall_spaces(site, room):
        verdict, gaps = judge(space, here, reach, least - DUST)
        wall, at = _where(line, space, gaps)
        facts = space_figures(space, here, gaps, reach, line.wall_at)
        spot = site.wall_spot(room, wall, at, from_left(at), walls=walls_of(room))
        subject = f"{room.id}/{space.wall}.{space.number}"
        yield Finding(this, subject, verdict, spot, facts, _limits(book, here, site))


def _where(line: FloorLine, space: Space, gaps: Sequence[Interval]) -> tuple[str, float]:
    """The wall of the widest gap, by its middle, and where on it the gap begins; without one, where
    the space begins.
    """
    if not gaps:
        return line.wall_at(space.start)
    start, end = max(gaps, key=lambda gap: gap[1] - gap[0])
    wall, middle = line.wall_at((start + end) / 2)
    return wall, max(0.0, middle - (end - start) / 2)


def _counters(site: HouseByCode, room: Room, line: FloorLine) -> Iterator[Interval]:
    """Where base cabinets with a work surface take the wall: the counter rule asks there."""
    for counter in site.counters_in[room.id]:
        for stretch in counter.along:
            start = line.position(stretch.wall, stretch.at_mm)
            yield start, start + stretch.width_mm


def _outlets(site: HouseByCode, room: Room, line: FloorLine) -> Iterator[LineReceptacle]:
    for box in site.receptacles_in[room.id]:
        place = box.place
        if isinstance(place, OnWall):
            at, height = line.position(place.wall, place.at_mm), place.height_mm
        elif isinstance(place, OnFloor):
            at, height = line.position(place.wall, place.at_mm), place.from_wall_mm
        else:
            continue
        yield LineReceptacle(box.id, at, height, *_counts(site.rulebook, box))


def _counts(book: Rulebook, box: Box) -> Counts:
    """Whether a receptacle by a wall counts for it."""
    if not for_general_use(box):
        return False, (LeftOutWhy.GENERAL, None)
    place = box.place
    if isinstance(place, OnFloor):
        return count_at_most(
            place.from_wall_mm, book.value(f"{NAME}.floor_from_wall_mm"), LeftOutWhy.FLOOR
        )
    if isinstance(place, OnWall):
        return count_at_most(place.height_mm, book.value(f"{NAME}.max_height_mm"), LeftOutWhy.HIGH)
    return YES


def _here(space: Space, line: FloorLine, outlets: list[LineReceptacle]) -> Iterator[LineReceptacle]:
    for outlet in outlets:
        at = line.within(space, outlet.at)
        if at is not None:
            yield outlet._replace(at=at)


def _limits(book: Rulebook, here: list[LineReceptacle], site: HouseByCode) -> tuple[Limit, ...]:
    """The limits that the verdict rests on."""
    names = ["reach_mm", "min_width_mm"]
    places = set()
    for outlet in here:
        places.add(type(site.boxes[outlet.box].place))
    if OnWall in places:
        names += ["max_height_mm"]
    if OnFloor in places:
        names += ["floor_from_wall_mm"]
    limits = []
    for name in names:
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return tuple(limits)
