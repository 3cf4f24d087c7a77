"""The fewest points that bring every point of a stretch within reach, exactly.

A stretch is served when its first point lies within reach of the start, its last within reach of
the end, and no two neighbours farther apart than twice the reach. So the best choice is a shortest
path from place to place, and the search over all places is its proof.
"""

from collections.abc import Sequence
from itertools import pairwise

DUST = 1e-6  # mm; what adding lengths may leave

Weight = tuple[int, float]
"""Points to add, then the sum of squared distances between neighbours, which evens them out."""
Best = tuple[Weight, tuple[float, ...]]


def fewest(
    start: float, end: float, there: Sequence[float], places: Sequence[float], reach: float
) -> tuple[float, ...] | None:
    """The places to add along a stretch, given what is there; None when no choice serves it."""
    best = _path(start, end, there, places, (reach, reach), reach)
    if best:
        return best[1]
    return None


def fewest_on_ring(
    length: float, there: Sequence[float], places: Sequence[float], reach: float
) -> tuple[float, ...] | None:
    """The same round a closed line: any stretch of twice the reach must have a point in it."""
    best: Best | None = None
    for at, cost in _ring_starts(there, places, reach):
        turned = [(p - at) % length for p in there if p != at]
        free = sorted({(p - at) % length for p in places} - {0.0})
        way = _path(0.0, length, turned, free, (2 * reach, 2 * reach), reach)
        if way is None:
            continue
        (count, spread), chosen = way
        if best is None or (count + cost, spread) < best[0]:
            turned_back = tuple((p + at) % length for p in chosen)
            best = (count + cost, spread), (at,) * cost + turned_back
    if best:
        return best[1]
    return None


def _ring_starts(
    there: Sequence[float], places: Sequence[float], reach: float
) -> list[tuple[float, int]]:
    """Points of which one must be among the chosen, each with what it adds: the first that is
    there, or any place of the first stretch that must have one.
    """
    if there:
        return [(min(there), 0)]
    starts: list[tuple[float, int]] = []
    for place in places:
        if place <= 2 * reach:
            starts.append((place, 1))
    return starts


def _path(
    start: float, end: float, there: Sequence[float], places: Sequence[float],
    ends: tuple[float, float], reach: float,
) -> Best | None:  # fmt: skip
    """The lightest way from start to end in steps that reach allows."""
    if end - start <= ends[0] + DUST and ends[0] > reach:
        return (0, (end - start) ** 2), ()  # one point on the ring serves all of it
    points = _costed(there, places)
    best: list[Best | None] = []
    low = 0
    for index, (at, cost) in enumerate(points):
        options: list[Best] = []
        if at - start <= ends[0] + DUST:
            options.append(((cost, (at - start) ** 2), (at,) * cost))
        while points[low][0] < at - 2 * reach - DUST:
            low += 1
        for before in range(low, index):
            if (way := best[before]) is not None:
                (count, spread), chosen = way
                step = (at - points[before][0]) ** 2
                options.append(((count + cost, spread + step), chosen + (at,) * cost))
        best.append(min(options, default=None))
    return _lightest(points, best, end, ends[1])


def _lightest(
    points: Sequence[tuple[float, int]], ways: Sequence[Best | None], end: float, within: float
) -> Best | None:
    """The best of the ways to points that lie near enough to the end."""
    last: list[Best] = []
    for (at, _), way in zip(points, ways, strict=True):
        if way is not None and end - at <= within + DUST:
            (count, spread), chosen = way
            last.append(((count, spread + (end - at) ** 2), chosen))
    return min(last, default=None)


def _costed(there: Sequence[float], places: Sequence[float]) -> list[tuple[float, int]]:
    """Every point in order with what it adds: nothing where one is there already."""
    points = {(at, 0) for at in there}
    for at in places:
        if at not in there:
            points.add((at, 1))
    return sorted(points)


Far = Sequence[tuple[str, float, float]]
"""What one point leaves out of reach: stretches of a wall, from and to in mm."""


def together(far: Sequence[Far], count: int) -> tuple[int, ...] | None:
    """The first `count` points, by their numbers, that leave nothing out of reach; exact.

    Walls are cut wherever any point's reach ends; a choice serves when each piece is left out by
    fewer than all of it. Whatever covers the first open piece must be in it, so all are weighed.
    """
    pieces = _pieces(far)
    left_out = []
    for each in far:
        bits = 0
        for number, piece in enumerate(pieces):
            if _leaves_out(each, piece):
                bits |= 1 << number
        left_out.append(bits)
    return _cover((1 << len(pieces)) - 1, left_out, count)


def _pieces(far: Sequence[Far]) -> list[tuple[str, float, float]]:
    """The walls, cut wherever a stretch of any of them begins or ends."""
    cuts: dict[str, set[float]] = {}
    for each in far:
        for wall, start, end in each:
            cuts.setdefault(wall, set()).update((start, end))
    pieces: list[tuple[str, float, float]] = []
    for wall, ends in cuts.items():
        for start, end in pairwise(sorted(ends)):
            pieces.append((wall, start, end))
    return pieces


def _leaves_out(far: Far, piece: tuple[str, float, float]) -> bool:
    """Whether a piece of a wall lies within what a point leaves out of reach."""
    wall, first, last = piece
    for other, start, end in far:
        if other == wall and start <= first and last <= end:
            return True
    return False


def _cover(open_: int, left_out: Sequence[int], count: int) -> tuple[int, ...] | None:
    if not open_:
        return ()
    counts = []
    for out in left_out:
        counts.append((open_ & ~out).bit_count())
    most = max(counts)
    if count * most < open_.bit_count():
        return None
    first = open_ & -open_
    for number, out in enumerate(left_out):
        if not out & first:
            rest = _cover(open_ & out, left_out, count - 1)
            if rest is not None:
                return (number, *rest)
    return None
