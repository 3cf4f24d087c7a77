"""Where the words of a plan stand, so that no two of them overlap at any zoom.

Words come in steps, from the plan as a whole to a room that fills a phone. A step only adds words,
or says more where there is room by then: so whoever zooms in reads on where he read before. A word
that finds no room at a step waits for the next; its ring stands at every one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from inspections.checker.geometry.plan import point_within

from .geometry import Point
from .labels import HeldAt, Label, LabelKind, Rect, around, em_at, hull, width_of

STEPS = (1, 1.5, 2.2, 3.3, 5, 7.5)
"""How many times nearer than the whole plan on a phone each step is."""
FIT_PX = 330.0
"""The least width in which the plan of a storey is read: a phone upright, with its margins."""
NUMBERS_FROM, FIGURES_FROM, LETTERS_FROM = 1, 3, 3
"""The steps from which lines have numbers and figures, and from which symbols are read."""
RING_MM, RING_EM = 230.0, 0.55
"""The radius of a ring: at least the first on the plan, and the other on a screen."""
MOST_NUMBERS = 3
"""More numbers than these at a place are said as a count."""
LONGEST_FIGURE = 9.0  # em
GRID = 17
"""How finely a room is searched for the best place for a word: so many points a side."""


@dataclass(frozen=True, slots=True)
class Floor:
    """A room as the layout takes it."""

    id: str
    name: str
    corners: tuple[Point, ...]
    count: int
    """Its open lines."""


@dataclass(frozen=True, slots=True)
class Place:
    """A ring or a stretch that words stand at."""

    room: str
    at: Point
    numbers: tuple[int, ...]
    figure: str = ""
    ringed: bool = True


class Zoomed(NamedTuple):
    """What a step of zoom is laid out in."""

    step: int
    em: float
    near_em: float
    """One em where symbols can be read, for what is to stay clear of them by then."""


def ring_radius(em: float) -> float:
    """How large a ring is, with one em so many mm."""
    return max(RING_MM, RING_EM * em)


def scales(width: float) -> tuple[float, ...]:
    """The least pixels a mm of each step, for a sheet of so many mm."""
    return tuple(FIT_PX / width * times for times in STEPS)


def lay_out(
    floors: Sequence[Floor],
    places: Sequence[Place],
    symbols: Sequence[Rect],
    width: float,
) -> list[Label]:
    """The words of a storey, with the steps at which each is shown, for a sheet of that width."""
    standing: dict[Key, Label] = {}
    scaled = scales(width)
    for step, scale in enumerate(scaled):
        near = em_at(max(scale, scaled[LETTERS_FROM]))
        _Step(standing, floors, places, symbols, Zoomed(step, em_at(scale), near)).add()
    return list(standing.values())


Key = tuple[str, str | int]
"""What a word is, and of which room or place."""


class _Step:
    """One step of zoom: the words that stand by then, and what finds room among them."""

    def __init__(
        self,
        standing: dict[Key, Label],
        floors: Sequence[Floor],
        places: Sequence[Place],
        symbols: Sequence[Rect],
        zoomed: Zoomed,
    ) -> None:
        self.standing = standing
        self.floors = floors
        self.places = places
        self.symbols = symbols
        self.zoomed = zoomed
        self.corners = {floor.id: floor.corners for floor in floors}
        self.radius = ring_radius(zoomed.em)
        self.rings: list[Rect] = []
        for place in places:
            if place.ringed:
                self.rings.append(around(place.at, self.radius))
        self.taken: dict[Key, Rect] = {}
        for key, label in standing.items():
            if label.shown(zoomed.step):
                self.taken[key] = label.rect(zoomed.em, zoomed.step)

    def add(self) -> None:
        """What finds room at this step."""
        for kind in (LabelKind.COUNT, LabelKind.NAME):
            for floor in self.floors:
                wanted = kind is LabelKind.NAME or floor.count
                if wanted and (kind, floor.id) not in self.standing:
                    self._in_room(floor, kind)
        for index in range(len(self.places)):
            if self.zoomed.step >= NUMBERS_FROM:
                self._at_place(index)
        for index in range(len(self.places)):
            if self.zoomed.step >= FIGURES_FROM:
                self._say_more(index)

    def _stand(self, key: Key, label: Label) -> None:
        self.standing[key] = label
        self.taken[key] = self._box(label)

    def _box(self, label: Label) -> Rect:
        return label.rect(self.zoomed.em, self.zoomed.step)

    def _free(self, label: Label, but: Key | None = None) -> bool:
        """Whether a word meets no other there but one, and no symbol once those are read."""
        box = self._box(label)
        for key, other in self.taken.items():
            if key != but and box.meets(other):
                return False
        near = label.rect(self.zoomed.near_em, self.zoomed.step)
        return not any(near.meets(symbol) for symbol in self.symbols)

    def _in_room(self, floor: Floor, kind: LabelKind) -> None:
        """A name or count where it covers the fewest rings, near the middle of its room."""
        text = floor.name
        if kind is LabelKind.COUNT:
            text = str(floor.count)
        best: tuple[float, Label] | None = None
        whole = hull(floor.corners)
        if kind is LabelKind.NAME and width_of(text) * self.zoomed.em > whole.right - whole.left:
            return
        rings = [ring for ring in self.rings if ring.meets(whole)]
        for away, at in _grid(floor.corners):
            if best is not None and away >= best[0]:
                break
            label = Label(kind, floor.id, text, at, first=self.zoomed.step)
            box = self._box(label)
            outside = _outside(box, floor.corners)
            if outside and kind is LabelKind.NAME:
                continue
            cost = away + outside + 2 * sum(box.meets(ring) for ring in rings)
            if (best is None or cost < best[0]) and self._free(label):
                best = cost, label
        if best is not None:
            self._stand((kind, floor.id), best[1])

    def _at_place(self, index: int) -> None:
        """The numbers of a place beside its ring, or how many they are until there is room."""
        place = self.places[index]
        numbers, times = ("numbers", index), ("times", index)
        if numbers in self.standing:
            return
        if len(place.numbers) <= MOST_NUMBERS:
            joined = " · ".join(str(number) for number in place.numbers)
            label = self._beside(place, joined, times)
            if label is not None:
                if times in self.standing:
                    self.standing[times] = replace(self.standing[times], until=self.zoomed.step)
                    self.taken.pop(times, None)
                self._stand(numbers, label)
                return
        if len(place.numbers) > 1 and times not in self.standing:
            label = self._beside(place, f"×{len(place.numbers)}")
            if label is not None:
                self._stand(times, label)

    def _beside(self, place: Place, text: str, but: Key | None = None) -> Label | None:
        """A word beside a ring, in its own room if it can be, over no other ring."""
        corners = self.corners.get(place.room, ())
        of = " ".join(str(number) for number in place.numbers)
        best: tuple[int, Label] | None = None
        for at, hold in _sides(place, self.radius):
            label = Label(LabelKind.LINES, of, text, at, hold, self.zoomed.step)
            more = replace(label, figure=place.figure, figure_from=self.zoomed.step)
            outside = _outside(self._box(label), corners)
            if outside and self.zoomed.step < len(STEPS) - 1:
                continue  # in its own room by and by
            outside += _outside(more.rect(self.zoomed.near_em, self.zoomed.step), corners)
            if best is not None and outside >= best[0]:
                continue
            if not self._over_ring(label, place) and self._free(label, but):
                best = outside, label
        if best is None:
            return None
        return best[1]

    def _over_ring(self, label: Label, place: Place) -> bool:
        """Whether a word covers the ring of another place."""
        box, own = self._box(label), around(place.at, self.radius)
        return any(ring != own and box.meets(ring) for ring in self.rings)

    def _say_more(self, index: int) -> None:
        """A figure after the number of a place, where there is room for both."""
        place, key = self.places[index], ("numbers", index)
        label = self.standing.get(key)
        alone = len(place.numbers) == 1 and 0 < width_of(place.figure) <= LONGEST_FIGURE
        if label is None or label.figure or not alone:
            return
        more = replace(label, figure=place.figure, figure_from=self.zoomed.step)
        corners = self.corners.get(place.room, ())
        if _outside(self._box(more), corners) or self._over_ring(more, place):
            return
        if self._free(more, key):
            self._stand(key, more)


def _outside(box: Rect, corners: Sequence[Point]) -> int:
    """How many corners of a box lie outside a room."""
    outside = 0
    for corner in box.corners:
        outside += not point_within(corner, corners)
    return outside


def _sides(place: Place, radius: float) -> Iterator[tuple[Point, HeldAt]]:
    """Where a word may stand by a ring: beside it, above and below, then at its corners."""
    x, y = place.at
    off = radius + 40.0
    if not place.ringed:
        yield place.at, HeldAt.MIDDLE
    yield (x + off, y), HeldAt.LEFT
    yield (x - off, y), HeldAt.RIGHT
    yield (x, y - off), HeldAt.BOTTOM
    yield (x, y + off), HeldAt.TOP
    for down in (-off, off):
        yield (x + off, y + down), HeldAt.LEFT
        yield (x - off, y + down), HeldAt.RIGHT


@lru_cache(256)
def _grid(corners: tuple[Point, ...]) -> list[tuple[float, Point]]:
    """Points within a room, the nearest to its middle first, and how far off that: 0 to 1."""
    whole = hull(corners)
    left, top = whole.left, whole.top
    across, down = whole.right - left, whole.bottom - top
    found: list[tuple[float, Point]] = []
    for column in range(GRID):
        for row in range(GRID):
            part_x, part_y = (column + 0.5) / GRID, (row + 0.5) / GRID
            at = left + across * part_x, top + down * part_y
            if point_within(at, corners):
                away = max(abs(part_x - 0.5), abs(part_y - 0.5)) * 2
                found.append((away, at))
    return sorted(found)
