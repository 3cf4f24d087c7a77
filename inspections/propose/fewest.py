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
    found = _path(start, end, there, places, (reach, reach), reach)
    if found:
        return found[1]
    return None


def fewest_on_ring(
    length: float, there: Sequence[float], places: Sequence[float], reach: float
) -> tuple[float, ...] | None:
    """The same round a closed line: any stretch of twice the reach must have a point in it."""
    best: Best | None = None
    first = None
    if there:
        first = min(there)
    if first is not None:
        starts = [(first, 0)]
    else:
        starts = []
        for p in places:
            if p <= 2 * reach:
                starts.append((p, 1))
    for at, cost in starts:
        turned = []
        for p in there:
            if p != at:
                turned.append((p - at) % length)
        made = set()
        for p in places:
            made.add((p - at) % length)
        free = sorted(made - {0.0})
        found = _path(0.0, length, turned, free, (2 * reach, 2 * reach), reach)
        if found is None:
            continue
        (count, spread), chosen = found
        gathered = []
        for p in chosen:
            gathered.append((p + at) % length)
        whole = (at,) * cost + tuple(gathered)
        if best is None or (count + cost, spread) < best[0]:
            best = (count + cost, spread), whole
    if best:
        return best[1]
    return None


def _path(
    start: float, end: float, there: Sequence[float], places: Sequence[float],
    ends: tuple[float, float], reach: float,
) -> Best | None:  # fmt: skip
    """The lightest way from start to end in steps that reach allows."""
    if end - start <= ends[0] + DUST and ends[0] > reach:
        return (0, (end - start) ** 2), ()  # one point on the ring serves all of it
    pairs = set()
    for p in there:
        pairs.add((p, 0))
    found = set()
    for p in places:
        if p not in there:
            found.add((p, 1))
    points = sorted(pairs | found)
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
    last = [
        ((way[0][0], way[0][1] + (end - at) ** 2), way[1])
        for (at, _), way in zip(points, best, strict=True)
        if way is not None and end - at <= ends[1] + DUST
    ]
    return min(last, default=None)


Far = Sequence[tuple[str, float, float]]
"""What one point leaves out of reach: stretches of a wall, from and to in mm."""


def together(far: Sequence[Far], count: int) -> tuple[int, ...] | None:
    """The first `count` points, by their numbers, that leave nothing out of reach; exact.

    Walls are cut wherever any point's reach ends; a choice serves when each piece is left out by
    fewer than all of it. Whatever covers the first open piece must be in it, so all are weighed.
    """
    ends: dict[str, set[float]] = {}
    for wall, start, end in (stretch for each in far for stretch in each):
        ends.setdefault(wall, set()).update((start, end))
    pieces = []
    for w, at in ends.items():
        for a, b in pairwise(sorted(at)):
            pieces.append((w, a, b))
    left_out = []
    for each in far:
        left_out.append(
            sum(
                1 << n
                for n, (wall, a, b) in enumerate(pieces)
                if any(w == wall and start <= a and b <= end for w, start, end in each)
            )
        )
    return _cover((1 << len(pieces)) - 1, left_out, count)


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
