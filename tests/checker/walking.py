"""The rules for walls and counters once more, by stepping in cells: no intervals, no geometry.

It stands apart from the checker so that the two can be held against each other.
"""

from itertools import pairwise
from typing import Any

from tests.checker.drawn_rooms import Points, Room, starts

CELL = 100  # mm
BREAKING = {"door", "sliding_door", "opening", "fireplace", "cabinet"}
LIMITS = {"cec": (1800.0, 900.0), "nec": (1828.8, 609.6)}  # mm: reach, least width


def short_spaces(room: Room, at: Points, code: str) -> int:
    """How many wall spaces have a cell out of reach. All lengths are whole cells."""
    reach, least = LIMITS[code]
    whole = sum(wall["length_mm"] for wall in room["walls"])
    places = [starts(room)[wall] + x for wall, x in at]
    turns = (-whole, 0, whole) if room["closed"] else (0,)
    served = sorted({place + turn for place in places for turn in turns})
    blocked = [(a + t, b + t) for a, b in _blocked(room, code) for t in turns]
    cells = range(CELL // 2, whole, CELL)
    free = [not any(a < cell < b for a, b in blocked) for cell in cells]
    if all(free) and room["closed"]:
        return int(_out_of_reach(0, whole, served, reach))
    return sum(
        _out_of_reach(start, end, [p for p in served if start <= p <= end], reach)
        for start, end in _runs(free, room["closed"])
        if end - start >= least
    )


def _out_of_reach(start: int, end: int, served: list[int], reach: float) -> bool:
    middles = range(start + CELL // 2, end, CELL)
    return any(all(abs(middle - p) > reach for p in served) for middle in middles)


def _blocked(room: Room, code: str) -> list[tuple[int, int]]:
    blocked = []
    for wall in room["walls"]:
        start = starts(room)[wall["id"]]
        for opening in wall["openings"]:
            left = start + opening["at_mm"]
            right = left + opening["width_mm"]
            window = code == "cec" and opening["kind"] == "window" and opening["sill_mm"] == 0
            if opening["kind"] in BREAKING or window:
                blocked.append((left, right))
            if code == "cec" and opening.get("swing") in ("left", "right"):
                blocked.append(_leaf(start, wall, opening))
    return blocked


def _leaf(start: int, wall: dict[str, Any], opening: dict[str, Any]) -> tuple[int, int]:
    width, left = opening["width_mm"], start + opening["at_mm"]
    if opening["swing"] == "left":
        return (left - width if opening["at_mm"] >= width else start - width, left)
    end, right = start + wall["length_mm"], left + width
    return (right, right + width if end - right >= width else end + width)


def _runs(free: list[bool], closed: bool) -> list[tuple[int, int]]:
    """Unbroken runs of cells, from and to; on a ring one may run past the end."""
    runs: list[tuple[int, int]] = []
    for index, cell in enumerate(free):
        if cell and runs and runs[-1][1] == index * CELL:
            runs[-1] = (runs[-1][0], (index + 1) * CELL)
        elif cell:
            runs.append((index * CELL, (index + 1) * CELL))
    whole = len(free) * CELL
    if closed and len(runs) > 1 and runs[0][0] == 0 and runs[-1][1] == whole:
        runs[-1] = (runs[-1][0], whole + runs.pop(0)[1])
    return runs


COUNTER_CELL = 50  # mm
COUNTER_LIMITS = {"cec": (900.0, 300.0, 1e9, None), "nec": (609.6, 304.8, 508.0, (304.8, 457.2))}
"""mm: reach, least width, highest above the top; depth behind a fixture that counts, straight
and in a corner, where the code counts any."""


def short_counter_spaces(
    counter: dict[str, Any], places: list[tuple[float, int]], code: str
) -> int:
    """How many counter spaces have a cell out of reach, every length in whole cells.

    A place is a distance from the counter's left end and a height above its top.
    """
    reach, least, highest, behind = COUNTER_LIMITS[code]
    stretches = counter["along"]
    whole = sum(stretch["width_mm"] for stretch in stretches)
    corner = stretches[0]["width_mm"] if len(stretches) > 1 else -1
    served = [at for at, above in places if 0 <= above <= highest]
    blocked = []
    for fixture in counter["interruptions"]:
        start, end = fixture["at_mm"], fixture["at_mm"] + fixture["width_mm"]
        runs_on = fixture["kind"] in ("sink", "range", "cooktop")
        if behind and runs_on and fixture["behind_mm"] >= behind[start < corner < end]:
            continue
        blocked.append((start, end))
    middles = range(COUNTER_CELL // 2, whole, COUNTER_CELL)
    free = [not any(a < middle < b for a, b in blocked) for middle in middles]
    edges = sorted({0, whole, *(edge for pair in blocked for edge in pair)})
    found = 0
    for start, end in pairwise(edges):
        inside = [m for m in middles if start < m < end]
        if not inside or not free[inside[0] // COUNTER_CELL] or end - start < least:
            continue
        here = [at for at in served if start <= at <= end]
        found += any(all(abs(middle - at) > reach for at in here) for middle in inside)
    return found
