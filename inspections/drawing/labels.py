"""Words on a plan whose size stays the same on a screen, and the room that each of them takes.

A plan is in mm, its words are in em: at a scale of so many pixels a millimetre one em is so many
mm (`em_at`). A word is held at a point of the plan, and that point lies on the edge or in the
middle of its box. So a box shrinks towards its point when somebody zooms in, and what does not
overlap at one scale overlaps at no larger one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import combinations
from unicodedata import normalize

from .geometry import Point

TEXT_PX = 12.0
"""How large words are on a screen."""
COUNT_EM = 0.85
"""From the middle of a room's count to the rim round it."""

NARROW = frozenset(" ijl.,;:!'’·|[]()")
SLIM = frozenset('ftr-I/\\"°{}')
WIDE = frozenset("mwMW%@")
ASCENT, DESCENT = 1.03, 0.28  # em, of a line of the typeface of our pages


def em_at(scale: float) -> float:
    """One em in mm, at so many pixels a mm."""
    return TEXT_PX / scale


@lru_cache(4096)
def width_of(text: str) -> float:
    """How wide a text is at most, in em of the semibold cut of our typeface."""
    width = 0.0
    for letter in normalize("NFD", text):
        width += _width(letter)
    return width


def _width(letter: str) -> float:
    if normalize("NFD", letter) != letter or "\u0300" <= letter <= "\u036f":
        return 0.0  # an accent stands over its letter
    if letter in NARROW:
        return 0.33
    if letter in SLIM:
        return 0.44
    if letter in WIDE:
        return 0.88
    if letter.isupper():
        return 0.66
    return 0.56


@dataclass(frozen=True, slots=True)
class Rect:
    """A box on the sheet, in mm."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Rect") -> bool:
        """Whether they overlap."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its corners, clockwise."""
        left, top, right, bottom = self.left, self.top, self.right, self.bottom
        return (left, top), (right, top), (right, bottom), (left, bottom)


def around(at: Point, radius: float) -> Rect:
    """The box round a circle."""
    x, y = at
    return Rect(x - radius, y - radius, x + radius, y + radius)


def hull(points: Sequence[Point]) -> Rect:
    """The box that holds all points."""
    xs, ys = zip(*points, strict=True)
    return Rect(min(xs), min(ys), max(xs), max(ys))


class HeldAt(StrEnum):
    """Which point of its box a word is held at."""

    MIDDLE = "middle"
    LEFT = "left"
    """It runs to the right of its point."""
    RIGHT = "right"
    TOP = "top"
    """It stands below its point."""
    BOTTOM = "bottom"


ANCHOR = {HeldAt.LEFT: "start", HeldAt.RIGHT: "end"}
DROP = {HeldAt.TOP: ASCENT, HeldAt.BOTTOM: -DESCENT}
"""From the point down to the base line, in em."""
MIDDLE_DROP = 0.36


class LabelKind(StrEnum):
    """What a word on the plan is."""

    NAME = "name"
    """Of a room."""
    COUNT = "count"
    """How many lines are open in a room."""
    LINES = "lines"
    """The numbers of the open lines at a place, and a figure where there is one."""


@dataclass(frozen=True, slots=True)
class Label:
    """A word on the plan, and at which steps of zoom it is shown."""

    kind: LabelKind
    of: str
    """Its room, or the numbers of its lines."""
    text: str
    at: Point
    hold: HeldAt = HeldAt.MIDDLE
    first: int = 0
    """The step from which it is shown."""
    until: int | None = None
    """The step from which it is not shown any more."""
    figure: str = ""
    figure_from: int | None = None
    """The step from which its figure is shown after its text."""

    def shown(self, step: int) -> bool:
        """Whether it is shown at a step."""
        return self.first <= step and (self.until is None or step < self.until)

    def words(self, step: int) -> str:
        """What it reads at a step."""
        if self.figure_from is not None and self.figure_from <= step:
            return f"{self.text} {self.figure}"
        return self.text

    @property
    def drop(self) -> float:
        """From its point down to the base line, in em."""
        return DROP.get(self.hold, MIDDLE_DROP)

    def rect(self, em: float, step: int) -> Rect:
        """The box that it takes, with one em so many mm."""
        x, y = self.at
        if self.kind is LabelKind.COUNT:
            return around(self.at, max(COUNT_EM, width_of(self.text) / 2 + 0.1) * em)
        width = width_of(self.words(step)) * em
        left = x - width / 2
        if self.hold is HeldAt.LEFT:
            left = x
        elif self.hold is HeldAt.RIGHT:
            left = x - width
        base = y + self.drop * em
        return Rect(left, base - ASCENT * em, left + width, base + DESCENT * em)


def overlaps(
    labels: Iterable[Label], em: float, step: int, letters: Sequence[Rect] = ()
) -> list[tuple[str, str]]:
    """Words that overlap at a step, with one em so many mm, by what they read.

    `letters` are the boxes of what symbols say, where they are shown.
    """
    shown = [(label.words(step), label.rect(em, step)) for label in labels if label.shown(step)]
    found: list[tuple[str, str]] = []
    for (one, here), (other, there) in combinations(shown, 2):
        if here.meets(there):
            found.append((one, other))
    for words, box in shown:
        for letter in letters:
            if box.meets(letter):
                found.append((words, "symbol"))
    return found
