"""What the receptacles along a line reach, and what follows when a fact is missing.

A verdict holds only when it is the same in every way that the missing facts may turn out:
receptacles that may not count, and stretches that may part the line.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from typing import NamedTuple

from inspections.checker.finding import Verdict
from inspections.checker.geometry.floor_line import Doubt, Space
from inspections.checker.geometry.intervals import Interval, beyond, beyond_on_ring, complement
from inspections.checker.house.rooms import InterruptionKind

MOST_DOUBTS = 6
"""With more, a space is unknown rather than tried in every way."""


class LeftOutWhy(StrEnum):
    """Why a receptacle does not count, or what has to be known to count it."""

    GENERAL = "general"
    """It is not for general use."""
    HIGH = "high"
    CEILING = "ceiling"
    GRADE = "grade"
    """Nobody reaches it from the ground."""
    FLOOR = "floor"
    """It is in the floor, away from the wall."""
    ABOVE = "above"
    BELOW = "below"
    FACE_UP = "face-up"
    OVERHANG = "overhang"
    ALONG = "along"
    """Where it is along the counter."""


Reason = tuple[str, float | None]
"""Why a receptacle does not count, and the measure that says so (None when it is missing)."""


class LineReceptacle(NamedTuple):
    """A receptacle on a line: its box, its position, and whether it counts.

    `counts` is None when that depends on a missing fact, which `reason` then names.
    """

    box: str
    at: float
    height: float | None
    counts: bool | None
    reason: Reason | None = None


class Lack(StrEnum):
    """A fact that is not recorded yet: of a box, a door, a window or an appliance in a counter."""

    HIGH = "high"
    FLOOR = "floor"
    ABOVE = "above"
    OVERHANG = "overhang"
    ALONG = "along"
    SWING = "swing"
    SILL = "sill"
    BEHIND = "behind"


@dataclass(frozen=True, slots=True)
class Lacking:
    """A missing fact: of a box or a wall by its id, or of a fixture by its kind."""

    what: Lack
    part: str = ""
    fixture: InterruptionKind | None = None
    count: int = 1
    """Of how many: a wall may have several windows."""


@dataclass(frozen=True, slots=True)
class Counted:
    """A receptacle that counts, and where it is along the space."""

    box: str
    at_mm: float
    height_mm: float | None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A receptacle that does not count, why, and the measure that says so."""

    box: str
    why: LeftOutWhy
    measure_mm: float | None


@dataclass(frozen=True, slots=True)
class LineGap:
    """A stretch out of reach: from and to along the space, and where it starts."""

    start_mm: float
    end_mm: float
    wall: str
    at_mm: float

    @property
    def width_mm(self) -> float:
        """How long it is."""
        return self.end_mm - self.start_mm


@dataclass(frozen=True, slots=True)
class LineFacts:
    """A space along a line, what counts there and what is out of reach of it."""

    wall: str
    """The wall that it starts on, and how far from that wall's left end."""
    at_mm: float
    space_mm: float
    reach_mm: float
    counted: frozenset[Counted]
    left_out: frozenset[LeftOut]
    missing: frozenset[Lacking]
    gaps: tuple[LineGap, ...]


def judge(
    space: Space, outlets: Sequence[LineReceptacle], reach: float, least: float
) -> tuple[Verdict, list[Interval]]:
    """Whether every point of the space is reached, and the stretches that are not.

    `least` is the shortest space the code asks for. Short shows what is out of reach at the
    best; unknown what is at the worst.
    """
    if len(space.doubts) > MOST_DOUBTS:
        return Verdict.INFO_NEEDED, [(space.start, space.end)]
    sure = []
    hoped = []
    for outlet in outlets:
        if outlet.counts:
            sure.append(outlet.at)
        if outlet.counts is not False:
            hoped.append(outlet.at)
    ways = list(_ways(space, least))
    worst = max(_gaps(space, ways, sure, reach), key=_total)
    if not worst:
        return Verdict.OK, []
    best = worst
    if len(ways) > 1 or len(hoped) > len(sure):
        best = min(_gaps(space, ways, hoped, reach), key=_total)
    if best:
        return Verdict.NOT_TO_CODE, best
    return Verdict.INFO_NEEDED, worst


def _gaps(
    space: Space, ways: list[list[Interval]], positions: list[float], reach: float
) -> list[list[Interval]]:
    """The stretches out of reach, by each way that the space may be."""
    gaps = []
    for way in ways:
        gaps.append(_beyond(space, way, positions, reach))
    return gaps


def _ways(space: Space, least: float) -> Iterator[list[Interval]]:
    """The spaces that the code asks about in each way the doubtful breaks may turn out."""
    if not space.doubts:
        yield [(space.start, space.end)]
        return
    edges = []
    for doubt in space.doubts:
        edges.append((doubt.start - space.start, doubt.end - space.start))
    for size in range(len(edges) + 1):
        for cuts in combinations(edges, size):
            pieces = []
            for a, b in complement(cuts, space.length, space.ring):
                if b - a >= least:
                    pieces.append((space.start + a, space.start + b))
            yield pieces


def _beyond(
    space: Space, pieces: list[Interval], points: Sequence[float], reach: float
) -> list[Interval]:
    """What is out of reach in the pieces, each served by the receptacles within it."""
    if space.ring and pieces == [(space.start, space.end)]:
        return beyond_on_ring(space.length, points, reach)
    gaps = []
    for start, end in pieces:
        turns = [0.0]
        if end > space.end:
            turns.append(space.length)
        inside = []
        for p in points:
            for turn in turns:
                if start <= p + turn <= end:
                    inside.append(p + turn)
        gaps += beyond(start, end, inside, reach)
    return gaps


def _total(gaps: list[Interval]) -> float:
    return sum(end - start for start, end in gaps)


def space_figures(
    space: Space,
    outlets: Sequence[LineReceptacle],
    gaps: Sequence[Interval],
    reach: float,
    wall_at: Callable[[float], tuple[str, float]],
) -> LineFacts:
    """What a finding about a space keeps: every position measured along it from its start."""
    start = space.start
    uncovered = []
    for a, b in gaps:
        wall, at = wall_at(a)
        uncovered.append(LineGap(round(a - start, 3), round(b - start, 3), wall, round(at, 3)))
    wall, at = wall_at(start)
    return LineFacts(
        wall,
        round(at, 3),
        round(space.length, 3),
        reach,
        counted_of(outlets, start),
        left_out_of(outlets),
        lacking_of(outlets) | doubtful(space.doubts),
        tuple(uncovered),
    )


def counted_of(outlets: Sequence[LineReceptacle], start: float) -> frozenset[Counted]:
    """The receptacles that count, each measured from a start."""
    counted = set()
    for outlet in outlets:
        if outlet.counts:
            counted.add(Counted(outlet.box, round(outlet.at - start, 3), outlet.height))
    return frozenset(counted)


def left_out_of(outlets: Sequence[LineReceptacle]) -> frozenset[LeftOut]:
    """The receptacles that do not count."""
    left_out = set()
    for outlet in outlets:
        if outlet.reason and outlet.counts is False:
            why, measure = outlet.reason
            left_out.add(LeftOut(outlet.box, LeftOutWhy(why), measure))
    return frozenset(left_out)


def lacking_of(outlets: Sequence[LineReceptacle]) -> frozenset[Lacking]:
    """What is missing to say whether the rest counts."""
    missing = set()
    for outlet in outlets:
        if outlet.reason and outlet.counts is None:
            missing.add(Lacking(Lack(outlet.reason[0]), outlet.box))
    return frozenset(missing)


def doubtful(doubts: Sequence[Doubt]) -> frozenset[Lacking]:
    """What is missing to say whether each stretch parts the line."""
    missing = set()
    for (what, where), count in Counter((doubt.missing, doubt.where) for doubt in doubts).items():
        if what == Lack.BEHIND:
            missing.add(Lacking(Lack.BEHIND, fixture=InterruptionKind(where), count=count))
        else:
            missing.add(Lacking(Lack(what), where, count=count))
    return frozenset(missing)
