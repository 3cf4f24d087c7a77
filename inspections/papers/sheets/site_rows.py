"""Rows of the site list: a room's head, a numbered line, and what to verify in the room."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from config.languages import say
from config.messages.message import Value
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.large_frame import SMALLEST, WRITE_IN
from inspections.papers.sheets.rows import draw_verdict
from inspections.papers.sheets.styles import (
    BOLD,
    FINE,
    FIRM,
    INK,
    REGULAR,
    held_together,
    width,
    wrapped,
)
from inspections.papers.sheets.tick_boxes import SIDE, TickBox, draw_tick, draw_write_in

NUMBER, WRITE, AIR = 21.0, 50.0, 3.0
"""Points for the number and its shape, for a write-in, and between things beside one another."""
LEADING = SMALLEST * 1.15
AGAIN = 14.0
"""Points of a room's name where a column begins within the room."""


class ListRow(Flowable):
    """A row of a room, which says the room again where it is the first of a column."""

    def __init__(self, room: Value) -> None:
        super().__init__()
        self.room_name = say(room)
        self.again = False

    def wrapped_head(self) -> float:
        """Points that the room's name takes above the row."""
        frame = getattr(self, "_frame", None)
        self.again = frame is not None and bool(frame._atTop)
        if self.again:
            return AGAIN
        return 0.0

    def split(self, _room: float, _height: float) -> list[Flowable]:
        """A row stays whole."""
        return []

    def draw_head(self, wide: float, top: float) -> float:
        """The room's name on a rule, where it is said again; how high the row itself begins."""
        if not self.again:
            return top
        canvas = self.canv
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, SMALLEST)
        canvas.drawString(0, top - 10, say(words.CONTINUED(room=self.room_name)))
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(FINE)
        canvas.line(0, top - AGAIN, wide, top - AGAIN)
        return top - AGAIN


class RoomHead(Flowable):
    """A room's name on a firm rule, and what is OK in it as a count; never alone at a foot."""

    keepWithNext = 1  # noqa: N815  ReportLab's own name

    def __init__(self, name: Value, counts: Value) -> None:
        super().__init__()
        self.name, self.counts = say(name), say(counts)

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """One line, with air above it."""
        self.room = room
        return room, 20

    def draw(self) -> None:
        """Name left, count right, on the rule."""
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, 11)
        canvas.drawString(0, 4, self.name)
        canvas.setFont(REGULAR, SMALLEST)
        canvas.drawRightString(self.room, 4, self.counts)
        canvas.setLineWidth(FIRM)
        canvas.line(0, 0, self.room, 0)


@dataclass(frozen=True, slots=True)
class Numbered:
    """A numbered line: what is wrong and where, what to do, and what somebody said of it."""

    number: int
    verdict: str
    says: Value
    to_do: Value
    where: Value
    told: Value
    tick: TickBox


class NumberedRow(ListRow):
    """A numbered line with its box and its write-in."""

    def __init__(self, room: Value, line: Numbered) -> None:
        super().__init__(room)
        self.line = line

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """As many lines as the words take, and no less than a hand needs."""
        self.room = room
        wide = room - NUMBER - SIDE - WRITE - 3 * AIR
        self.lines: list[tuple[str, str]] = []
        parts = ((self.line.says, BOLD), (_in_one(self.line), REGULAR), (self.line.told, BOLD))
        for part, font in parts:
            text = held_together(say(part))
            if text:
                for line in wrapped(text, font, SMALLEST, wide):
                    self.lines.append((line, font))
        self.tall = max(len(self.lines) * LEADING + 4, WRITE_IN + 3) + self.wrapped_head()
        return room, self.tall

    def draw(self) -> None:
        """Number over its shape, words, box and write-in."""
        canvas = self.canv
        top = self.draw_head(self.room, self.tall)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(FINE)
        canvas.line(0, 0, self.room, 0)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, SMALLEST + 1)
        canvas.drawString(0, top - 10.5, str(self.line.number))
        draw_verdict(canvas, self.line.verdict, 5, top - 19, 4.5)
        canvas.setFillColor(INK)
        for index, (text, font) in enumerate(self.lines):
            canvas.setFont(font, SMALLEST)
            canvas.drawString(NUMBER, top - 9.5 - index * LEADING, text)
        left = self.room - WRITE
        draw_write_in(canvas, left, top - WRITE_IN - 1.5, WRITE, WRITE_IN)
        draw_tick(canvas, self.line.tick, left - SIDE - AIR, top - SIDE - 7)


def _in_one(line: Numbered) -> str:
    """The place, then what to do, in one run of words."""
    where, to_do = say(line.where), say(line.to_do)
    if where:
        where = f"{where[0].upper()}{where[1:]}."
    return f"{where} {to_do}".strip()


@dataclass(frozen=True, slots=True)
class ToTick:
    """A box with a few words beside it."""

    words: Value
    tick: TickBox = TickBox.OPEN


@dataclass(frozen=True, slots=True)
class _Laid:
    """A box with its words where they come to stand in a row."""

    tick: TickBox
    lines: Sequence[str]
    left: float
    down: float


class VerifyRow(ListRow):
    """What to verify in a room: boxes to tick one after another, then one write-in for them."""

    def __init__(self, room: Value, ticks: Sequence[ToTick]) -> None:
        super().__init__(room)
        self.ticks = ticks
        self.open = False
        for each in ticks:
            self.open = self.open or each.tick is TickBox.OPEN

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """Lay the boxes side by side, in as many lines as they take."""
        self.room = room
        wide = room
        if self.open:
            wide -= WRITE + AIR
        self.laid: list[_Laid] = []
        left, down, deep = 0.0, 0.0, 0.0
        for each in self.ticks:
            text = held_together(say(each.words))
            long = SIDE + AIR + width(text, REGULAR, SMALLEST)
            if left and left + long > wide:
                left, down = 0.0, down + deep
            lines = wrapped(text, REGULAR, SMALLEST, wide - SIDE - AIR)
            deep = SIDE + 3 + (len(lines) - 1) * LEADING
            self.laid.append(_Laid(each.tick, lines, left, down))
            left += long + 9
        least = 0.0
        if self.open:
            least = WRITE_IN + 3
        self.tall = max(down + deep + 3, least) + self.wrapped_head()
        return room, self.tall

    def draw(self) -> None:
        """Boxes with their words, then the write-in."""
        canvas = self.canv
        top = self.draw_head(self.room, self.tall)
        for each in self.laid:
            bottom = top - 2 - SIDE - each.down
            draw_tick(canvas, each.tick, each.left, bottom)
            canvas.setFillColor(INK)
            canvas.setFont(REGULAR, SMALLEST)
            for index, text in enumerate(each.lines):
                canvas.drawString(each.left + SIDE + AIR, bottom + 2.4 - index * LEADING, text)
        if self.open:
            draw_write_in(canvas, self.room - WRITE, top - WRITE_IN - 1.5, WRITE, WRITE_IN)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(FINE)
        canvas.line(0, 0, self.room, 0)
