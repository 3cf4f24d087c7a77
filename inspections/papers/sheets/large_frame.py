"""The frame of sheets that are read at arm's length: nothing on it is smaller than 9 points."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO

from django.utils.translation import get_language
from reportlab.lib.pagesizes import landscape
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from config.languages import say
from config.messages.message import Value
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.frame import (
    MARGIN,
    PAD,
    PAPERS,
    SheetCanvas,
    TitleBlock,
    title_of,
)
from inspections.papers.sheets.styles import (
    BOLD,
    FINE,
    FIRM,
    INK,
    REGULAR,
    fitted,
    register_fonts,
    width,
)

SMALLEST = 9.0
"""Points of the smallest letters."""
WRITE_IN = 23.0
"""Points of height that a hand writes in: 8 mm and a little."""
ROW = 15.0
BLOCK = ROW + WRITE_IN
"""The title block: a row that is read and one that is written in."""
FOOT = 11.0
GAP = 14.0
"""Between two columns."""
PLAN, ABOVE, LIST = "plan", "above", "list"


@dataclass(frozen=True, slots=True)
class PaperRoom:
    """A sheet of paper and the room within its rules."""

    size: tuple[float, float]

    @property
    def wide(self) -> float:
        """Points across."""
        return self.size[0] - 2 * (MARGIN + PAD)

    @property
    def tall(self) -> float:
        """Points down to the title block."""
        return self.size[1] - 2 * MARGIN - BLOCK - 12

    @property
    def column(self) -> float:
        """Points across one of two columns."""
        return (self.wide - GAP) / 2


def upright(paper: str) -> PaperRoom:
    """A sheet that stands."""
    return PaperRoom(PAPERS[paper])


def lying(paper: str) -> PaperRoom:
    """A sheet that lies."""
    return PaperRoom(landscape(PAPERS[paper]))


def large_pdf(
    block: TitleBlock,
    paper: str,
    story: Callable[[], Sequence[Flowable]],
    *,
    first: PaperRoom,
    head: float = 0.0,
) -> bytes:
    """A PDF whose first sheet is `first`, and whose others stand, in two columns.

    `head` is how much of the first sheet runs across both columns; without it the whole sheet does.
    """
    register_fonts()
    output = BytesIO()
    document = BaseDocTemplate(
        output,
        pagesize=first.size,
        title=title_of(block),
        author=block.shop or "Studbay",
        subject=block.address,
        creator="Studbay",
        lang=get_language() or "en",
        invariant=1,
    )
    templates = [PageTemplate(PLAN, [_frame(first, first.tall)], pagesize=first.size)]
    if head:
        above = [_frame(first, head), *_columns(first, first.tall - head)]
        templates = [PageTemplate(ABOVE, above, pagesize=first.size)]
    standing = upright(paper)
    columns = _columns(standing, standing.tall)
    templates.append(PageTemplate(LIST, columns, pagesize=standing.size))
    document.addPageTemplates(templates)

    def canvas(*args: object, **kwargs: object) -> SheetCanvas:
        return SheetCanvas(*args, block=block, frame=_draw_frame, **kwargs)

    document.build(list(story()), canvasmaker=canvas)
    return output.getvalue()


def _frame(paper: PaperRoom, tall: float) -> Frame:
    top = paper.size[1] - MARGIN - 6
    return _plain(MARGIN + PAD, top - tall, paper.wide, tall)


def _columns(paper: PaperRoom, tall: float) -> list[Frame]:
    bottom, left = MARGIN + BLOCK + 4, MARGIN + PAD
    return [
        _plain(left, bottom, paper.column, tall),
        _plain(left + paper.column + GAP, bottom, paper.column, tall),
    ]


def _plain(left: float, bottom: float, wide: float, tall: float) -> Frame:
    return Frame(
        left,
        bottom,
        wide,
        tall,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )


def _draw_frame(canvas: Canvas, block: TitleBlock, number: str) -> None:
    across, down = canvas._pagesize
    room = across - 2 * MARGIN
    canvas.setStrokeColor(INK)
    canvas.setFillColor(INK)
    canvas.setLineWidth(FIRM)
    canvas.rect(MARGIN, MARGIN, room, down - 2 * MARGIN)
    canvas.line(MARGIN, MARGIN + BLOCK, MARGIN + room, MARGIN + BLOCK)
    canvas.setLineWidth(FINE)
    canvas.line(MARGIN, MARGIN + WRITE_IN, MARGIN + room, MARGIN + WRITE_IN)
    foot = block.made_line
    canvas.setFont(REGULAR, SMALLEST)
    canvas.drawString(MARGIN, FOOT, fitted(foot, REGULAR, SMALLEST, room))
    revision: Value = ""
    if block.revision:
        revision = words.REVISION(number=block.revision)
    read = ((block.job, 0.34), (block.address, 0.34), (revision, 0.14), (number, 0.18))
    _cells(canvas, read, MARGIN + WRITE_IN, ROW, room)
    written = ((block.sheet, 0.2), (block.rulebook, 0.4), (words.WALKED_BY(), 0.4))
    _cells(canvas, written, MARGIN, WRITE_IN, room)


def _cells(
    canvas: Canvas,
    cells: Sequence[tuple[Value, float]],
    bottom: float,
    tall: float,
    room: float,
) -> None:
    """Cells of a row of the title block; what is too long for one takes two lines where it can."""
    left = MARGIN
    for value, share in cells:
        wide = share * room
        text = say(value)
        lines = _two_lines(text, wide - 8, tall)
        top = bottom + tall / 2 + (len(lines) - 1) * 5 - 3
        for index, line in enumerate(lines):
            canvas.setFont(BOLD, SMALLEST)
            canvas.drawString(left + 4, top - index * 10, line)
        left += wide
        if left < MARGIN + room - 1:
            canvas.line(left, bottom, left, bottom + tall)


def _two_lines(text: str, room: float, tall: float) -> list[str]:
    if width(text, BOLD, SMALLEST) <= room or tall < WRITE_IN:
        return [fitted(text, BOLD, SMALLEST, room)]
    head: list[str] = []
    rest = text.split()
    while rest and width(" ".join([*head, rest[0]]), BOLD, SMALLEST) <= room:
        head.append(rest.pop(0))
    return [" ".join(head), fitted(" ".join(rest), BOLD, SMALLEST, room)]
