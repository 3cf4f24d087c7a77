"""The placard for the wall of an area: where to look, never what the answer is."""

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from config.languages import say
from config.languages.own_words import Typed
from config.messages.message import Value
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.code import draw_code
from inspections.papers.sheets.frame import TitleBlock, sheet_pdf
from inspections.papers.sheets.rows import TextBlock
from inspections.papers.sheets.styles import BOLD, FIRM, INK, REGULAR, width

SIZE, LEADING = 9.0, 12.0
"""Points of the address that is written beneath a code, and of its lines."""


class QrCode(Flowable):
    """A QR code with its address written out beneath it, in the middle of the sheet."""

    def __init__(self, address: str, side: float) -> None:
        super().__init__()
        self.address, self.side = address, side

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """A square, and the address beneath it, in as many lines as it needs."""
        self.room = room
        self.lines = list(self._lines(room))
        return room, self.side + 12 + LEADING * len(self.lines)

    def _lines(self, room: float) -> Iterator[str]:
        """The address broken where the room ends: it has no words to be broken between."""
        line = ""
        for letter in self.address:
            if width(line + letter, REGULAR, SIZE) > room:
                yield line
                line = ""
            line += letter
        yield line

    def draw(self) -> None:
        """Each dark module as a square; the address for whoever has no camera."""
        canvas = self.canv
        beneath = 12 + LEADING * len(self.lines)
        draw_code(canvas, self.address, (self.room - self.side) / 2, beneath, self.side)
        canvas.setFont(REGULAR, SIZE)
        for number, line in enumerate(self.lines, 1):
            canvas.drawCentredString(self.room / 2, beneath - 4 - LEADING * number, line)


class Large(Flowable):
    """A line as large as the sheet allows, up to a size."""

    def __init__(self, text: Value, size: float) -> None:
        super().__init__()
        self.text, self.size = say(text), size

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """As high as the letters come out."""
        self.room = room
        self.fits = min(self.size, self.size * room / width(self.text, BOLD, self.size))
        return room, self.fits * 1.3

    def draw(self) -> None:
        """In the middle, in ink."""
        self.canv.setFillColor(INK)
        self.canv.setFont(BOLD, self.fits)
        self.canv.drawCentredString(self.room / 2, self.fits * 0.3, self.text)


class HorizontalLine(Flowable):
    """A firm line across the sheet."""

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """A line with air round it."""
        self.room = room
        return room, 18

    def draw(self) -> None:
        """From side to side."""
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(FIRM)
        self.canv.line(0, 9, self.room, 9)


def placard_pdf(block: TitleBlock, *, address: str, number: str, paper: str = "letter") -> bytes:
    """A placard of one area as a PDF: the same input gives the same bytes.

    `address` opens the live state; `number` tells one paper from another.
    """

    def story(_room: float) -> Sequence[Flowable]:
        return (
            Large(block.area, 64),
            Large(Typed(block.job), 30),
            HorizontalLine(),
            Large(says.SCAN_FIRST(), 40),
            QrCode(address, 300),
            HorizontalLine(),
            TextBlock(says.NO_ANSWER(), 13, bold=True, space=8),
            TextBlock(says.NUMBER(number=number), 9),
        )

    return sheet_pdf(block, paper, story)
