"""Stretches of a line: what is left between cuts, and what lies out of reach."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

EPSILON = 0.01  # mm; lengths that came from inches carry rounding dust

Interval = tuple[float, float]


def complement(cuts: Iterable[Interval], length: float, ring: bool = False) -> list[Interval]:
    """What is left of a line or ring of that length once the cuts are taken out.

    On a ring the last stretch may run past the end into the first; it then ends past `length`.
    """
    free: list[Interval] = []
    at = 0.0
    for start, end in sorted(_on_line(cuts, length, ring)):
        if start - at > EPSILON:
            free.append((at, start))
        at = max(at, end)
    if length - at > EPSILON:
        free.append((at, length))
    if ring and len(free) > 1 and free[0][0] == 0.0 and free[-1][1] == length:
        free = [*free[1:-1], (free[-1][0], length + free[0][1])]
    return free


def _on_line(cuts: Iterable[Interval], length: float, ring: bool) -> Iterator[Interval]:
    """The cuts within 0 and length; on a ring what hangs over comes back at the other end."""
    for start, end in cuts:
        yield max(start, 0.0), min(end, length)
        if ring and start < 0:
            yield length + start, length
        if ring and end > length:
            yield 0.0, end - length


def beyond(start: float, end: float, points: Sequence[float], reach: float) -> list[Interval]:
    """The stretches from start to end farther along the line than `reach` from every point."""
    if not points:
        return [(start, end)]
    ordered = sorted(points)
    gaps = [(start, ordered[0] - reach)]
    for a, b in pairwise(ordered):
        gaps.append((a + reach, b - reach))
    gaps.append((ordered[-1] + reach, end))
    return _real(gaps)


def beyond_on_ring(length: float, points: Sequence[float], reach: float) -> list[Interval]:
    """The same on a ring of that length, which is measured round both ways."""
    if not points:
        return [(0.0, length)]
    ordered = sorted(points)
    ordered.append(ordered[0] + length)
    between = []
    for a, b in pairwise(ordered):
        between.append((a + reach, b - reach))
    return _real(between)


def _real(intervals: Iterable[Interval]) -> list[Interval]:
    real: list[Interval] = []
    for a, b in intervals:
        if b - a > EPSILON:
            real.append((a, b))
    return real
