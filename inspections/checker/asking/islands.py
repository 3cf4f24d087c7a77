"""Islands and peninsulas: how many receptacles a code asks of one, and which count for it."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from inspections.checker.asking.counters import NAME, on_top
from inspections.checker.asking.coverage import (
    Counted,
    Lacking,
    LeftOut,
    LeftOutWhy,
    LineReceptacle,
)
from inspections.checker.asking.receptacles import Counts, count_at_most, for_general_use
from inspections.checker.house.boxes import Box, OnCounter
from inspections.checker.house.rooms import Counter, CounterKind
from inspections.checker.rulebook import Rulebook

LARGEST = 1e5  # mm; longer than any counter
DUST = 0.01  # mm


@dataclass(frozen=True, slots=True)
class IslandFacts:
    """An island or peninsula, what counts there, and the fewest and most that are required."""

    kind: CounterKind
    length_mm: float | None
    depth_mm: float | None
    area_m2: float | None
    first_m2: float | None
    more_m2: float | None
    outer_end_mm: float | None
    """How near to a peninsula's outer end one has to be, where the code says so."""
    least: int
    most: int
    counted: frozenset[Counted]
    left_out: frozenset[LeftOut]
    missing: frozenset[Lacking]
    provision: bool | None
    """Whether an outlet is left for a receptacle, where that serves; None when not recorded."""

    @property
    def has(self) -> int:
        """How many receptacles count for it."""
        return len(self.counted)


def required_range(counter: Counter, book: Rulebook) -> tuple[int, int]:
    """The fewest and the most receptacles asked for; they differ when a side is missing."""
    shortest = []
    longest = []
    for side in (counter.length_mm, counter.depth_mm):
        if side is None:
            shortest.append(0.0)
            longest.append(LARGEST)
        else:
            shortest.append(side)
            longest.append(side)
    return _asked(shortest, book), _asked(longest, book)


def _asked(sides: list[float], book: Rulebook) -> int:
    first, more = book.value(f"{NAME}.first_m2"), book.value(f"{NAME}.more_m2")
    if first is not None and more:
        area = sides[0] * sides[1] / 1e6
        beyond: float = (area - first) / more
        return 1 + max(0, ceil(beyond - 1e-9))
    long, short = book.value(f"{NAME}.free_long_mm"), book.value(f"{NAME}.free_short_mm")
    if long is None or short is None:
        return 1
    return int(max(sides) >= long - DUST and min(sides) >= short - DUST)


def serving(counter: Counter, boxes: list[Box], book: Rulebook) -> Iterator[LineReceptacle]:
    """The receptacles on an island or peninsula, and whether each counts for it."""
    for box in boxes:
        place = box.place
        if isinstance(place, OnCounter) and place.counter == counter.id:
            counts = _counts(book, box, place)
            yield LineReceptacle(box.id, place.at_mm or 0.0, place.above_top_mm, *counts)


def _counts(book: Rulebook, box: Box, place: OnCounter) -> Counts:
    above = place.above_top_mm
    if above is None or above >= 0 or not for_general_use(box):
        return on_top(book, box, place)
    below = count_at_most(-above, book.value(f"{NAME}.below_mm"), LeftOutWhy.BELOW)
    if not below[0]:
        return below
    return count_at_most(place.overhang_mm, book.value(f"{NAME}.overhang_mm"), LeftOutWhy.OVERHANG)


def at_outer_end(counter: Counter, box: Box, book: Rulebook) -> bool | None:
    """Whether a receptacle stands near enough to a peninsula's outer end, where a code asks."""
    limit = book.value(f"{NAME}.outer_end_mm")
    place = box.place
    if limit is None or not isinstance(place, OnCounter):
        return True
    if place.at_mm is None or counter.length_mm is None:
        return None
    return bool(counter.length_mm - place.at_mm <= limit + DUST)
