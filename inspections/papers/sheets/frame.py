"""The ruled frame and title block that every sheet carries, and its page numbers."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from io import BytesIO

from django.utils import timezone
from django.utils.translation import get_language
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from config.languages import say
from config.languages.own_words import Typed
from config.messages.message import Value
from inspections.papers.sheets import sheet_messages as says
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

PAPERS = {"letter": LETTER, "a4": A4}
MARGIN = 28.0
BLOCK_HEIGHT = 50.0
PAD = 9.0
FOOT = 12.0
FOOT_SIZES = (6, 5.5, 5, 4.5)
"""Of the letters beneath the frame: the address there has to be read whole."""
SIZES = (9, 8, 7, 6.2)
"""Of the letters in the title block: the first at which all of a cell's words fit."""


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block of a sheet says."""

    sheet: Value
    job: str
    address: str = ""
    shop: str = ""
    area: Value = field(default_factory=says.ALL_AREAS)
    stage: Value = ""
    revision: str = ""
    date: str = ""
    rulebook: str = ""
    made: str = ""
    """When it was made, with the zone of that clock."""
    amendments: Value = ""
    """Whether the rulebook was amended locally."""
    check: Value = ""
    """Where somebody sees whether this paper is still what stands."""
    age: Value = ""
    """Since when nothing was checked, where what it tells may be out of date."""

    @property
    def foot(self) -> str:
        """The line beneath the frame."""
        parts: list[Value] = [self.made_line]
        if self.check:
            parts.append(says.CURRENT(address=self.check))
        return _in_a_line(parts)

    @property
    def made_line(self) -> str:
        """When it was made and how old what it says is, and whether limits were amended."""
        parts: list[Value] = [self.age, self.amendments]
        if self.made:
            parts.insert(1, says.MADE(moment=self.made))
        return _in_a_line(parts)

    @property
    def shop_or_sheet(self) -> Value:
        """What is written above the sheet's name: whose it is."""
        if self.shop:
            return Typed(self.shop)
        return says.SHEET()

    def cells(self, number: str) -> tuple[tuple[tuple[Value, str, float], ...], ...]:
        """Two rows of label, text and share of the width."""
        return (
            (
                (says.JOB(), self.job, 0.34),
                (says.ADDRESS(), self.address, 0.36),
                (says.AREA(), say(self.area), 0.18),
                (says.DATE(), self.date, 0.12),
            ),
            (
                (self.shop_or_sheet, say(self.sheet), 0.34),
                (says.RULEBOOK(), self.rulebook, 0.36),
                (says.STAGE(), say(self.stage), 0.12),
                (says.REVISION(), self.revision, 0.06),
                (says.SHEET(), number, 0.12),
            ),
        )


def _in_a_line(parts: Sequence[Value]) -> str:
    return "  ·  ".join(say(part) for part in parts if part)


def title_of(block: TitleBlock) -> str:
    """The title of a file: what sheet of which job."""
    return say(says.TITLE(sheet=block.sheet, job=block.job))


def pdf_moment(moment: datetime) -> str:
    """A moment as a PDF keeps it (ISO 32000, 7.9.4)."""
    return f"D:{moment.astimezone(UTC):%Y%m%d%H%M%S}Z"


class SheetCanvas(Canvas):
    """A canvas that draws the title block last, when the number of sheets is known."""

    def __init__(
        self,
        *args: object,
        block: TitleBlock,
        frame: "FrameDrawer | None" = None,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)
        self._frame = frame or _draw_frame
        made = pdf_moment(timezone.now())
        self.setDateFormatter(lambda *_: made)  # the library's own is that of its invariant files
        self._block = block
        self._pages: list[dict[str, object]] = []

    def showPage(self) -> None:  # noqa: N802  ReportLab's own name
        """Keep the page until the last is known."""
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Draw each page's frame with its number, then write the file."""
        pages = self._pages
        for number, page in enumerate(pages, 1):
            self.__dict__.update(page)
            self._frame(self, self._block, say(says.PAGE(number=number, n=len(pages))))
            super().showPage()
        super().save()


FrameDrawer = Callable[[Canvas, TitleBlock, str], None]
"""Draws a page's frame and title block with the number of the page."""


def _draw_frame(canvas: Canvas, block: TitleBlock, number: str) -> None:
    page_width, page_height = canvas._pagesize
    canvas.setStrokeColor(INK)
    canvas.setFillColor(INK)
    canvas.setLineWidth(FIRM)
    canvas.rect(MARGIN, MARGIN, page_width - 2 * MARGIN, page_height - 2 * MARGIN)
    canvas.setLineWidth(FINE)
    inset = MARGIN - 5
    canvas.rect(inset, inset, page_width - 2 * inset, page_height - 2 * inset)
    room, foot = page_width - 2 * MARGIN, block.foot
    size = next((each for each in FOOT_SIZES if width(foot, REGULAR, each) <= room), FOOT_SIZES[-1])
    canvas.setFont(REGULAR, size)
    canvas.drawString(MARGIN, FOOT, fitted(foot, REGULAR, size, room))
    top = MARGIN + BLOCK_HEIGHT
    canvas.setLineWidth(FIRM)
    canvas.line(MARGIN, top, page_width - MARGIN, top)
    for row, cells in enumerate(block.cells(number)):
        _draw_row(canvas, cells, top - (row + 1) * BLOCK_HEIGHT / 2, page_width - 2 * MARGIN)


def _draw_row(
    canvas: Canvas, cells: Sequence[tuple[Value, str, float]], bottom: float, room: float
) -> None:
    height, left = BLOCK_HEIGHT / 2, MARGIN
    canvas.setLineWidth(FINE)
    canvas.line(MARGIN, bottom, MARGIN + room, bottom)
    for label, text, share in cells:
        wide = share * room
        canvas.setFont(REGULAR, 5.6)
        canvas.drawString(
            left + 4, bottom + height - 7.5, fitted(say(label), REGULAR, 5.6, wide - 8)
        )
        size = next((each for each in SIZES if width(text, BOLD, each) <= wide - 8), SIZES[-1])
        canvas.setFont(BOLD, size)
        canvas.drawString(left + 4, bottom + 5.5, fitted(text, BOLD, size, wide - 8))
        left += wide
        if left < MARGIN + room - 1:
            canvas.line(left, bottom, left, bottom + height)


def sheet_pdf(block: TitleBlock, paper: str, story: Callable[[float], Sequence[Flowable]]) -> bytes:
    """A PDF of the flowables that `story` makes for the room between the rules.

    The same at the same second gives the same bytes.
    """
    register_fonts()
    size = PAPERS[paper]
    room = size[0] - 2 * (MARGIN + PAD)
    output = BytesIO()
    document = BaseDocTemplate(
        output,
        pagesize=size,
        title=title_of(block),
        author=block.shop or "Studbay",
        subject=block.address,
        creator="Studbay",
        lang=get_language() or "en",
        invariant=1,
    )
    frame = Frame(
        MARGIN + PAD,
        MARGIN + BLOCK_HEIGHT + 4,
        room,
        size[1] - 2 * MARGIN - BLOCK_HEIGHT - 12,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    document.addPageTemplates(PageTemplate(frames=[frame]))
    document.build(
        list(story(room)),
        canvasmaker=lambda *args, **kwargs: SheetCanvas(*args, block=block, **kwargs),
    )
    return output.getvalue()
