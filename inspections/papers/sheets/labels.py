"""Where labels go on a plan so that none lies over another. Pure: boxes in points of the sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

Spot = tuple[float, float]
TURNS = 16
"""Directions that are tried round a place."""
STEP = 5.0
RINGS = 26
"""How many times a step farther out a label is tried, in points."""
COVERED, LEFT_HOME = 9.0, 45.0
"""Points farther away that a label rather goes than cover something soft, or leave its room."""


@dataclass(frozen=True, slots=True)
class PaperBox:
    """A rectangle on the sheet, in points from its lower left corner."""

    left: float
    bottom: float
    wide: float
    tall: float

    @property
    def middle(self) -> Spot:
        """Its middle."""
        return self.left + self.wide / 2, self.bottom + self.tall / 2

    def meets(self, other: "PaperBox") -> bool:
        """Whether the two share more than an edge."""
        apart_across = self.left >= other.left + other.wide or other.left >= self.left + self.wide
        if apart_across:
            return False
        return self.bottom < other.bottom + other.tall and other.bottom < self.bottom + self.tall

    def within(self, other: "PaperBox") -> bool:
        """Whether it lies wholly inside the other."""
        if self.left < other.left or self.bottom < other.bottom:
            return False
        right = self.left + self.wide <= other.left + other.wide
        return right and self.bottom + self.tall <= other.bottom + other.tall


def rect_round(at: Spot, wide: float, tall: float) -> PaperBox:
    """A box of a size round its middle."""
    return PaperBox(at[0] - wide / 2, at[1] - tall / 2, wide, tall)


class LabelSheet:
    """A sheet that fills with labels: what is hard is never covered, what is soft if it must be."""

    def __init__(self, edge: PaperBox) -> None:
        self.edge = edge
        self.hard: list[PaperBox] = []
        self.soft: list[PaperBox] = []

    def place(
        self, at: Spot, size: Spot, *, off: float = 0.0, home: PaperBox | None = None
    ) -> PaperBox:
        """The nearest free box of a size to a place, and from now on taken.

        `off` is how far from the place a label keeps at least; `home` is where it should stay.
        """
        best = rect_round(at, *size)
        cost = float("inf")
        for box, away in _tried(at, size, off):
            if away >= cost:
                break
            if not self._free(box):
                continue
            price = away + self._price(box, home)
            if price < cost:
                best, cost = box, price
        self.hard.append(best)
        return best

    def _free(self, box: PaperBox) -> bool:
        if not box.within(self.edge):
            return False
        for other in self.hard:
            if box.meets(other):
                return False
        return True

    def _price(self, box: PaperBox, home: PaperBox | None) -> float:
        """What it costs to cover something soft, or to leave the room."""
        price = 0.0
        for other in self.soft:
            if box.meets(other):
                price += COVERED
        if home is not None and not box.within(home):
            price += LEFT_HOME
        return price


def _tried(at: Spot, size: Spot, off: float) -> Iterator[tuple[PaperBox, float]]:
    """Boxes round a place with how far away each is, the nearest first."""
    if not off:
        yield rect_round(at, *size), 0.0
    for ring in range(RINGS):
        for turn in range(TURNS):
            angle = 2 * pi * turn / TURNS
            out = off + ring * STEP
            x = at[0] + cos(angle) * (out + size[0] / 2)
            y = at[1] + sin(angle) * (out + size[1] / 2)
            yield rect_round((x, y), *size), ring * STEP


def nearest_edge(box: PaperBox, at: Spot) -> Spot:
    """The point of a box that is nearest to a place."""
    x = min(max(at[0], box.left), box.left + box.wide)
    y = min(max(at[1], box.bottom), box.bottom + box.tall)
    return x, y


def far_from(one: Spot, other: Spot) -> float:
    """How far two places are from each other."""
    return hypot(one[0] - other[0], one[1] - other[1])


def gathered(places: Sequence[tuple[Spot, str]], within: float) -> list[tuple[Spot, list[str]]]:
    """Names by their place, those that stand together under the first of them."""
    groups: list[tuple[Spot, list[str]]] = []
    for at, name in places:
        for middle, names in groups:
            if far_from(middle, at) <= within:
                if name not in names:
                    names.append(name)
                break
        else:
            groups.append((at, [name]))
    return groups
