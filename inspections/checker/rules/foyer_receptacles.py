"""Receptacles in a foyer too large to be a hallway."""

from collections.abc import Iterator

from inspections.checker.asking.required_receptacles import count_data, provided, tell_count
from inspections.checker.geometry.floor_line import Breaks
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import OnWall
from ..house.rooms import OpeningKind, Room, RoomKind
from ..site import HouseByCode, from_left
from ..words import length

NAME = "foyer-receptacles"
BREAKS = Breaks(
    frozenset({OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING}),
    window_to_floor=True,
)


def tell(finding: Finding) -> FindingWords:
    """A wall space of the foyer and its receptacles."""
    data = finding.facts
    if "asked" not in data:
        return FindingWords(
            "Nobody recorded the walls of this entry.",
            "not recorded",
            working=("a foyer above some size needs receptacles; it has no walls here",),
            remedy="Record its walls, doors and receptacles.",
        )
    notes = [
        f"foyer of {data['area_m2']:.2f} m², more than {data['least_m2']:.2f} m²",
        f"wall space {length(data['space_mm'], finding.imperial)} long",
    ]
    return tell_count(finding, "wall space", "Add a receptacle in this wall space.", notes)


@rule(NAME, topic="receptacles", title="Receptacles in foyers", tell=tell, scope=Scope.ROOM)
def foyer_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A foyer above some size, no part of a hallway, has a receptacle in each wall space.

    The shortest spaces are not asked for. Spaces run round corners and end at doorways and at
    windows that reach the floor.
    """
    book = site.rulebook
    if f"{NAME}.area_m2" not in book:
        return
    limits = tuple(book.limits_of(NAME))
    for room in site.house.rooms:
        if room.kind is not RoomKind.ENTRY:
            continue
        if not room.walls or not room.closed:
            spot = site.room_spot(room)
            yield Finding(this, room.id, Verdict.UNKNOWN, spot, {}, limits)
        elif (area := site.lines[room.id].area_m2) > book.value(f"{NAME}.area_m2") + 1e-6:
            yield from _spaces(this, site, room, area)


def _spaces(this: Rule, site: HouseByCode, room: Room, area: float) -> Iterator[Finding]:
    book, line = site.rulebook, site.lines[room.id]
    limits, least = tuple(book.limits_of(NAME)), book.value(f"{NAME}.min_width_mm")
    highest = book.value("wall-receptacles.max_height_mm")
    placed = []
    for box in site.receptacles_in[room.id]:
        if isinstance(box.place, OnWall):
            placed.append((box, line.position(box.place.wall, box.place.at_mm)))
    for space in line.spaces(BREAKS):
        if space.length < least - EPSILON:
            continue
        here = []
        for box, at in placed:
            if line.within(space, at) is not None:
                here.append(box)
        found = provided(here, highest)
        verdict = found.verdict(1, 1)
        missing = []
        for doubt in space.doubts:
            missing.append(f"whether the window in wall {doubt.where} reaches the floor")
        if missing:
            verdict = Verdict.UNKNOWN
        data = count_data(found, (1, 1), highest, *missing) | {
            "area_m2": area,
            "least_m2": book.value(f"{NAME}.area_m2"),
            "space_mm": round(space.length, 3),
        }
        wall, at = line.wall_at(space.start)
        spot = site.wall_spot(room, wall, at, from_left(at))
        subject = f"{room.id}/{space.wall}.{space.number}"
        yield Finding(this, subject, verdict, spot, data, limits)
