"""The head of a site list: whose it is, its counts, its signs, and what to verify everywhere."""

from collections.abc import Iterator, Sequence

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from config.languages import say
from config.messages.message import Joined, Value
from inspections.papers.report.as_text import CAUTION
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.code import draw_code
from inspections.papers.sheets.house_plan import STRETCH
from inspections.papers.sheets.large_frame import SMALLEST
from inspections.papers.sheets.rows import TextBlock, draw_verdict
from inspections.papers.sheets.styles import (
    BOLD,
    FINE,
    INK,
    REGULAR,
    size_that_fits,
    width,
    wrapped,
)
from inspections.papers.sheets.tick_boxes import SIDE, TickBox, draw_tick
from inspections.papers.sheets.verify_cards import Card, Cards
from inspections.standing.holds import Seen
from inspections.standing.shown_messages import OK_ON_SITE, seen_shown, verdict_shown

CODE = 74.0
"""Points of a side of the code that says whether a paper is current."""


class SiteHead(Flowable):
    """The sheet's name, what is open as counts, and the code where there is one."""

    def __init__(self, name: Value, counts: Sequence[tuple[str, int]], address: Value) -> None:
        super().__init__()
        self.name, self.address = say(name), say(address)
        self.counts: list[tuple[str, str]] = []
        for verdict, count in counts:
            if verdict == "site":
                shown = OK_ON_SITE()
            elif verdict == Seen.NA:
                shown = seen_shown(verdict)
            else:
                shown = verdict_shown(verdict)
            if count or verdict not in ("site", Seen.NA):
                self.counts.append((verdict, f"{count} {say(shown)}"))

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """Two lines, and the address and its code where there are any."""
        self.room = room
        self.wide = room
        self.lines: Sequence[str] = ()
        self.written: Sequence[str] = ()
        self.tall = 38.0
        if self.address:
            self.wide = room - CODE - 6
            self.lines = (say(words.STILL_CURRENT()),)
            self.written = wrapped(self.address, REGULAR, SMALLEST, room)
            self.tall = CODE + 1 + 11 * len(self.written)
        return room, self.tall

    def draw(self) -> None:
        """Name, counts by their shapes, address, code."""
        canvas, top = self.canv, self.tall
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, size_that_fits(self.name, BOLD, 15, self.wide))
        canvas.drawString(0, top - 14, self.name)
        x = 0.0
        for verdict, text in self.counts:
            draw_verdict(canvas, "ok" if verdict == "site" else verdict, x + 5, top - 26, 4.5)
            canvas.setFillColor(INK)
            canvas.setFont(BOLD, 10)
            canvas.drawString(x + 13, top - 29.5, text)
            x += 13 + width(text, BOLD, 10) + 14
        canvas.setFont(REGULAR, SMALLEST)
        for index, line in enumerate(self.lines):
            canvas.drawString(0, top - 43 - index * 11, line)
        for index, line in enumerate(self.written):
            canvas.drawString(0, top - CODE - 8 - index * 11, line)
        if self.address:
            draw_code(canvas, self.address, self.room - CODE, top - CODE, CODE, error="m")


class SiteKey(Flowable):
    """What the signs on plan and list mean."""

    def __init__(self, answered: bool) -> None:
        super().__init__()
        self.answered = answered

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """One line, or two where the room is narrow."""
        self.room = room
        self.signs: list[tuple[str, str, float, int]] = []
        x, line = 0.0, 0
        for sign, word in self._words():
            text = say(word)
            long = 20 + width(text, REGULAR, SMALLEST) + 12
            if x and x + long > room + 12:
                x, line = 0.0, line + 1
            self.signs.append((sign, text, x, line))
            x += long
        self.tall = (line + 1) * 14.0 + 2
        return room, self.tall

    def _words(self) -> Iterator[tuple[str, Value]]:
        yield "ring", words.AT_PLACE()
        yield "stretch", words.ALONG()
        yield "room", words.IN_ROOM()
        if self.answered:
            yield "ticked", words.TICKED()
            yield "crossed", words.CROSSED()
        yield "", words.ONE_NUMBER()

    def draw(self) -> None:
        """Each sign, then its words."""
        canvas = self.canv
        for sign, text, x, line in self.signs:
            y = self.tall - 8 - line * 14
            canvas.setStrokeColor(INK)
            _draw_sign(canvas, sign, x, y)
            canvas.setFillColor(INK)
            canvas.setFont(REGULAR, SMALLEST)
            canvas.drawString(x + (18 if sign else 0), y - 3.2, text)


def _draw_sign(canvas: Canvas, sign: str, x: float, y: float) -> None:
    if sign == "ring":
        canvas.setLineWidth(1.2)
        canvas.circle(x + 7, y, 4.6)
    elif sign == "stretch":
        canvas.setLineWidth(STRETCH)
        canvas.line(x, y, x + 14, y)
    elif sign == "room":
        canvas.setLineWidth(0.8)
        canvas.setDash(2, 1.6)
        canvas.roundRect(x, y - 4.5, 14, 9, 3)
        canvas.setDash()
    elif sign == "ticked":
        draw_tick(canvas, TickBox.OK, x + 1, y - SIDE / 2)
    elif sign == "crossed":
        draw_tick(canvas, TickBox.FIX, x + 1, y - SIDE / 2)
    canvas.setLineWidth(FINE)


def head_lines(cards: Cards) -> list[Flowable]:
    """What to verify in each room, each requirement once, and the caution."""
    lines: list[Flowable] = []
    named = ((Card.BOXES, words.BOXES), (Card.CABLES, words.CABLES))
    for card, message in named:
        checks = cards.checks[card]
        if checks:
            text = message(checks=Joined(tuple(checks.values()), " "))
            lines.append(TextBlock(text, SMALLEST, space=2))
    if cards.as_drawn:
        lines.append(TextBlock(words.AS_DRAWN(), SMALLEST, space=2))
    if lines:
        lines.insert(0, TextBlock(words.VERIFY_IN_ROOMS(), SMALLEST, bold=True, space=1))
    lines.append(TextBlock(CAUTION, SMALLEST, space=3))
    return lines
