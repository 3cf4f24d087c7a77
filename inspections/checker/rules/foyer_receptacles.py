"""Receptacles in a foyer too large to be a hallway."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import FloorSize, Length, Listed, Rounding, message
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.asking.required_receptacles import (
    CountFacts,
    CountMissing,
    CountMissingFact,
    provided,
    tell_count,
)
from inspections.checker.geometry.floor_line import Breaks
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import OnWall
from ..house.rooms import OpeningKind, Room, RoomKind
from ..site import HouseByCode, from_left

NAME = "foyer-receptacles"
BREAKS = Breaks(
    frozenset({OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING}),
    window_to_floor=True,
)
PLACE = message("foyer-receptacles.place", "This wall space")
BARE = message(
    "foyer-receptacles.bare", "{space} of wall without a receptacle that counts; 1 required."
)
ADD = message("foyer-receptacles.remedy", "Add one in this wall space.")
AREA = message("foyer-receptacles.area", "foyer of {area}, over {least}")
SPACE = message("foyer-receptacles.space", "wall space {space} long; takes one from {least}")
WALLS = message("foyer-receptacles.walls", "the walls of this entry")
LARGE = message(
    "foyer-receptacles.large", "over {least}, each wall space of {width} or more takes a receptacle"
)
RECORD_WALLS = message("foyer-receptacles.walls.remedy", "Record its walls, doors and receptacles.")


@dataclass(frozen=True, slots=True)
class FoyerFacts:
    """A wall space of a foyer and its receptacles."""

    count: CountFacts
    area_m2: float
    least_m2: float
    """A foyer above it takes receptacles."""
    space_mm: float
    least_mm: float
    """A wall space so long takes one."""


@dataclass(frozen=True, slots=True)
class FoyerWithoutWalls:
    """A foyer of which the walls are not recorded, or do not close."""

    least_m2: float
    least_mm: float


def tell(finding: Finding) -> FindingWords:
    """A wall space of the foyer and its receptacles."""
    facts: FoyerFacts | FoyerWithoutWalls = finding.facts
    least = FloorSize(facts.least_m2, Rounding.DOWN)
    width = Length(facts.least_mm, Rounding.UP)
    if isinstance(facts, FoyerWithoutWalls):
        return FindingWords(
            NOT_RECORDED(what=Listed((WALLS(),))),
            working=(LARGE(least=least, width=width),),
            remedy=RECORD_WALLS(),
        )
    space = Length(facts.space_mm, Rounding.UP)
    notes = [
        AREA(area=FloorSize(facts.area_m2, Rounding.UP), least=least),
        SPACE(space=space, least=width),
    ]
    words = tell_count(finding, facts.count, PLACE(), ADD, notes)
    if finding.verdict is Verdict.NOT_TO_CODE:
        return replace(words, says=BARE(space=space))
    return words


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in foyers",
    tell=tell,
    scope=Scope.ROOM,
    facts=FoyerFacts | FoyerWithoutWalls,
)
def foyer_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A foyer above some size, no part of a hallway, has a receptacle in each wall space.

    The shortest spaces need none. Spaces run round corners and end at doorways and at windows that
    reach the floor.
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
            facts = FoyerWithoutWalls(
                book.value(f"{NAME}.area_m2"), book.value(f"{NAME}.min_width_mm")
            )
            yield Finding(this, room.id, Verdict.INFO_NEEDED, spot, facts, limits)
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
            missing.append(CountMissingFact(CountMissing.WINDOW_TO_FLOOR, wall=doubt.where))
        if missing:
            verdict = Verdict.INFO_NEEDED
        facts = FoyerFacts(
            found.facts((1, 1), highest, missing),
            area,
            book.value(f"{NAME}.area_m2"),
            round(space.length, 3),
            least,
        )
        wall, at = line.wall_at(space.start)
        spot = site.wall_spot(room, wall, at, from_left(at))
        subject = f"{room.id}/{space.wall}.{space.number}"
        yield Finding(this, subject, verdict, spot, facts, limits)
