"""A document drawn on paper: sections of ruled rows within the frame and title block."""

from collections.abc import Iterator, Sequence
from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.platypus import CondPageBreak, Flowable

from config.languages import say
from config.messages.message import Value
from inspections.papers.report.document import Document, DocumentRow, PhotographBlock
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.frame import TitleBlock, sheet_pdf
from inspections.papers.sheets.rows import Heading, TextBlock, draw_verdict
from inspections.papers.sheets.styles import (
    BOLD,
    FINE,
    FIRM,
    INK,
    REGULAR,
    SHADE,
    fitted,
    size_that_fits,
    wrapped,
)
from inspections.standing.shown_messages import verdict_shown

GUTTER, MARK = 6.0, 70.0
SIZE, UNDER = 7.6, 6.4
ABREAST, TALLEST = 2, 190.0
"""Photographs beside one another, and how tall one may be, in points."""


def document_pdf(
    document: Document, *, title_block: TitleBlock | None = None, paper: str = "letter"
) -> bytes:
    """The document as a PDF; the same input gives the same bytes."""
    block = title_block or TitleBlock(
        sheet=document.name, job=document.house, rulebook=document.rulebook
    )
    return sheet_pdf(block, paper, lambda _room: list(_story(document)))


def _story(document: Document) -> Iterator[Flowable]:
    yield SheetVerdict(document.verdict, document.says)
    for line in document.amended:
        yield TextBlock(line, 7.6, bold=True)
    for number, section in enumerate(document.sections):
        yield CondPageBreak(64)
        yield Heading(section.title, large=True, key=f"section-{number}")
        for note in section.notes:
            yield TextBlock(note, 7.4)
        marked = section.marked
        if section.columns and section.rows:
            yield TableRow(DocumentRow(section.columns), section.shares, marked, head=True)
        for row in section.rows:
            yield TableRow(row, section.shares, marked)
        for first in range(0, len(section.pictures), ABREAST):
            yield Pictures(section.pictures[first : first + ABREAST])
    yield CondPageBreak(90)
    yield Heading(says.CAUTIONS(), large=True, key="cautions")
    for caution in document.cautions:
        yield TextBlock(caution, 7.4)


class SheetVerdict(Flowable):
    """The sheet's own verdict by shape and word, with what it says."""

    def __init__(self, verdict: str, told: Value) -> None:
        super().__init__()
        self.verdict, self.told = verdict, say(told)
        self.word = say(verdict_shown(verdict))

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """As many lines as the words take."""
        self.room = room
        self.lines = wrapped(self.told, BOLD, 9.5, room - MARK - 8)
        self.tall = max(22.0, len(self.lines) * 12 + 8)
        return room, self.tall

    def draw(self) -> None:
        """Shape, word and sentence in a firm box."""
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(FIRM)
        canvas.rect(0, 2, self.room, self.tall - 4)
        draw_verdict(canvas, self.verdict, 12, self.tall / 2, 5)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, size_that_fits(self.word, BOLD, 8, MARK - 26))
        canvas.drawString(22, self.tall / 2 - 3, self.word)
        canvas.setFont(BOLD, 9.5)
        for index, line in enumerate(self.lines):
            canvas.drawString(MARK, self.tall - 14 - index * 12, line)


class Pictures(Flowable):
    """Photographs beside one another, each whole and with its caption under it."""

    def __init__(self, pictures: Sequence[PhotographBlock]) -> None:
        super().__init__()
        self.pictures = [
            (ImageReader(BytesIO(each.content)), say(each.caption)) for each in pictures
        ]

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """As tall as the tallest of them, and no taller than `TALLEST`."""
        self.wide = room / ABREAST - GUTTER
        self.sizes = []
        for image, _ in self.pictures:
            across, down = image.getSize()
            scale = min(self.wide / across, TALLEST / down)
            self.sizes.append((across * scale, down * scale))
        self.tall = max(down for _, down in self.sizes) + UNDER + 12
        return room, self.tall

    def split(self, _room: float, _height: float) -> list[Flowable]:
        """They stay together."""
        return []

    def draw(self) -> None:
        """Each at its size, its top in line with the others'."""
        canvas = self.canv
        canvas.setFont(REGULAR, UNDER)
        canvas.setFillColor(INK)
        for number, (image, caption) in enumerate(self.pictures):
            x, (across, down) = number * (self.wide + GUTTER), self.sizes[number]
            canvas.drawImage(image, x, self.tall - 4 - down, across, down)
            canvas.drawString(
                x, self.tall - 6 - down - UNDER, fitted(caption, REGULAR, UNDER, self.wide)
            )


class TableRow(Flowable):
    """A row on a fine rule; a short or unknown one is shaded and says so by shape and word."""

    def __init__(
        self, row: DocumentRow, shares: tuple[float, ...], marked: bool, head: bool = False
    ) -> None:
        super().__init__()
        self.row, self.marked, self.head = row, marked, head
        count = len(row.cells)
        if len(shares) == count:
            self.shares = shares
        else:
            self.shares = _even(count)

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """Break each cell for its share of the room."""
        self.room, left = room, MARK if self.marked else 0.0
        font = REGULAR
        if self.head or self.row.strong:
            font = BOLD
        self.cells = []
        x = left
        for cell, share in zip(self.row.cells, self.shares, strict=True):
            wide = share * (room - left)
            self.cells.append((x, wrapped(say(cell), font, SIZE, wide - GUTTER), font))
            x += wide
        self.under = [
            line
            for text in self.row.under
            for line in wrapped(say(text), REGULAR, UNDER, room - left - GUTTER - 10)
        ]
        heights = []
        for cell in self.cells:
            heights.append(len(cell[1]))
        lines = max(heights, default=1)
        self.tall = lines * SIZE * 1.22 + len(self.under) * UNDER * 1.22 + 6
        return room, self.tall

    def split(self, _room: float, _height: float) -> list[Flowable]:
        """A row stays whole."""
        return []

    def draw(self) -> None:
        """Rule, verdict, cells, and the small lines under them."""
        canvas = self.canv
        if self.row.verdict in ("not_to_code", "info_needed"):
            canvas.setFillColor(SHADE)
            canvas.rect(0, 0, self.room, self.tall, stroke=0, fill=1)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(FIRM if self.head else FINE)
        canvas.line(0, 0, self.room, 0)
        if self.row.verdict:
            draw_verdict(canvas, self.row.verdict, 7, self.tall - 7.5, 3.6)
            word = say(verdict_shown(self.row.verdict))
            canvas.setFont(BOLD, size_that_fits(word, BOLD, 6.6, MARK - 18))
            canvas.setFillColor(INK)
            canvas.drawString(15, self.tall - 10, word)
        canvas.setFillColor(INK)
        deepest = 0
        for x, lines, font in self.cells:
            canvas.setFont(font, SIZE)
            for index, line in enumerate(lines):
                canvas.drawString(x + 1, self.tall - 3 - SIZE - index * SIZE * 1.22, line)
            deepest = max(deepest, len(lines))
        canvas.setFont(REGULAR, UNDER)
        top = self.tall - 3 - deepest * SIZE * 1.22
        left = (MARK if self.marked else 0.0) + 8
        for index, line in enumerate(self.under):
            canvas.drawString(left, top - UNDER - index * UNDER * 1.22, line)


def _even(count: int) -> tuple[float, ...]:
    if count == 2:
        return (0.34, 0.66)
    return (1 / max(count, 1),) * count
