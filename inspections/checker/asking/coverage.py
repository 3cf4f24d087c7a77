"""What the receptacles along a line reach, and what follows when a fact is missing.

A verdict holds only when it is the same in every way that the missing facts may turn out:
receptacles that may not count, and stretches that may part the line.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import Any, NamedTuple

from inspections.checker.finding import Verdict
from inspections.checker.geometry.floor_line import Space
from inspections.checker.geometry.intervals import Interval, beyond, beyond_on_ring, complement

MOST_DOUBTS = 6
"""With more, a space is unknown rather than tried in every way."""

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


def judge(
    space: Space, outlets: Sequence[LineReceptacle], reach: float, least: float
) -> tuple[Verdict, list[Interval]]:
    """Whether every point of the space is reached, and the stretches that are not.

    `least` is the shortest space the code asks for. Short shows what is out of reach at the
    best; unknown what is at the worst.
    """
    if len(space.doubts) > MOST_DOUBTS:
        return Verdict.UNKNOWN, [(space.start, space.end)]
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
        return Verdict.MEETS, []
    best = worst
    if len(ways) > 1 or len(hoped) > len(sure):
        best = min(_gaps(space, ways, hoped, reach), key=_total)
    if best:
        return Verdict.SHORT, best
    return Verdict.UNKNOWN, worst


def _gaps(
    space: Space, ways: list[Any], positions: list[float], reach: float
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
) -> dict[str, Any]:
    """What a finding about a space keeps: every position measured along it from its start."""
    start = space.start
    missing = []
    for doubt in space.doubts:
        missing.append((doubt.missing, doubt.where))
    at = []
    out = []
    for outlet in outlets:
        if outlet.counts:
            at.append((outlet.box, round(outlet.at - start, 3), outlet.height))
        elif outlet.reason and outlet.counts is False:
            out.append((outlet.box, *outlet.reason))
        elif outlet.reason:
            missing.append((outlet.reason[0], outlet.box))
    uncovered = []
    for a, b in gaps:
        uncovered.append((round(a - start, 3), round(b - start, 3), *_rounded(wall_at(a))))
    return {
        "start": _rounded(wall_at(start)),
        "space_mm": round(space.length, 3),
        "reach_mm": reach,
        "at": at,
        "out": out,
        "missing": missing,
        "uncovered": uncovered,
    }


def _rounded(place: tuple[str, float]) -> tuple[str, float]:
    return place[0], round(place[1], 3)
