"""What the receptacles along a line reach, and what follows when a fact is missing.

Two sums bound every verdict: what is reached at the worst (only receptacles that surely count,
every doubtful break a break) and at the best. Meets needs the first, short the second.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from .finding import Verdict
from .floorline import Space
from .intervals import Interval, beyond, beyond_on_ring, overlap

Reason = tuple[str, float | None]
"""Why a receptacle does not count, and the measure that says so (None when it is missing)."""


class Outlet(NamedTuple):
    """A receptacle on a line: its box, its position, and whether it counts.

    `counts` is None when that depends on a missing fact, which `reason` then names.
    """

    box: str
    at: float
    height: float | None
    counts: bool | None
    reason: Reason | None = None


def judge(
    space: Space, outlets: Sequence[Outlet], reach: float, least: float
) -> tuple[Verdict, list[Interval]]:
    """Whether every point of the space is reached, and the stretches that are not.

    `least` is the shortest space the code asks for. Short shows what is out of reach
    whatever the missing facts are; unknown what may be.
    """
    sure = [outlet.at for outlet in outlets if outlet.counts]
    hoped = [outlet.at for outlet in outlets if outlet.counts is not False]
    if space.doubts:
        worst = list(_at_worst(space, sure, reach))
        best = list(_at_best(space, hoped, reach, least))
    else:
        worst = _beyond(space, sure, reach)
        best = _beyond(space, hoped, reach) if len(hoped) > len(sure) else worst
    if not worst:
        return Verdict.MEETS, []
    return (Verdict.SHORT, best) if best else (Verdict.UNKNOWN, worst)


def _beyond(space: Space, points: Sequence[float], reach: float) -> list[Interval]:
    if space.ring:
        return beyond_on_ring(space.length, points, reach)
    return beyond(space.start, space.end, points, reach)


def _parts(space: Space) -> list[Interval]:
    """The stretches before, between and after the doubtful breaks, empty ones as well."""
    edges = [space.start, *(edge for doubt in space.doubts for edge in doubt[:2]), space.end]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _at_worst(space: Space, sure: list[float], reach: float) -> Iterator[Interval]:
    """Points that some outcome of the doubts leaves out of reach, or might."""
    apart = all(before.end <= after.start for before, after in pairwise(space.doubts))
    if space.ring or not apart:
        yield space.start, space.end
        return
    parts = _parts(space)
    for start, end in parts:
        yield from overlap(beyond(start, end, _inside(sure, start, end), reach), start, end)
    for doubt, (before, after) in zip(space.doubts, pairwise(parts), strict=True):
        points = _inside(sure, before[0], after[1])
        yield from overlap(beyond(before[0], after[1], points, reach), doubt.start, doubt.end)


def _at_best(space: Space, hoped: list[float], reach: float, least: float) -> Iterator[Interval]:
    """Points that every outcome of the doubts leaves out of reach."""
    if space.ring:
        yield from () if hoped else [(space.start, space.end)]
        return
    unreached = beyond(space.start, space.end, hoped, reach)
    reached_to = space.start
    for start, end in [*(doubt[:2] for doubt in space.doubts), (space.end, space.end)]:
        if start - reached_to >= least:
            yield from overlap(unreached, reached_to, start)
        reached_to = max(reached_to, end)


def _inside(points: list[float], start: float, end: float) -> list[float]:
    return [point for point in points if start <= point <= end]


def figures(
    space: Space,
    outlets: Sequence[Outlet],
    gaps: Sequence[Interval],
    reach: float,
    wall_at: Callable[[float], tuple[str, float]],
) -> dict[str, Any]:
    """What a finding about a space keeps: every position measured along it from its start."""
    start = space.start
    missing = [(doubt.missing, doubt.where) for doubt in space.doubts]
    missing += [(o.reason[0], o.box) for o in outlets if o.counts is None and o.reason]
    return {
        "start": _rounded(wall_at(start)),
        "space": round(space.length, 3),
        "reach": reach,
        "at": [(o.box, round(o.at - start, 3), o.height) for o in outlets if o.counts],
        "out": [(o.box, *o.reason) for o in outlets if o.counts is False and o.reason],
        "missing": missing,
        "uncovered": [
            (round(a - start, 3), round(b - start, 3), *_rounded(wall_at(a))) for a, b in gaps
        ],
    }


def _rounded(place: tuple[str, float]) -> tuple[str, float]:
    return place[0], round(place[1], 3)
