"""What a sheet is made of: headings, paragraphs, checklist rows, a signature strip."""

from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from config.languages import say
from config.messages.message import Value
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.styles import (
    BOLD,
    FINE,
    FIRM,
    INK,
    PAPER,
    REGULAR,
    SHADE,
    size_that_fits,
    wrapped,
)
from inspections.papers.sheets.tick_boxes import TickBox
from inspections.standing.holds import Seen

NA = Seen.NA.value
GLYPH_LEFT, TEXT_LEFT = 20.0, 74.0
TICK = 12.0
SQUARE = f"2 {{foot:.2f}} {TICK} {TICK} re S "
WITHIN = {
    TickBox.OPEN: "",
    TickBox.OK: "2.5 6 m 5 3 l 10 9.5 l S",
    TickBox.NA: "2.5 6 m 9.5 6 l S",
    TickBox.FIX: "3 3 m 9 9 l S 3 9 m 9 3 l S",
}
"""What stands in a square once it is answered, in a page's operators, from the square's corner."""


class TextBlock(Flowable):
    """A run of text in one size."""

    def __init__(self, text: Value, size: float = 8, bold: bool = False, space: float = 3) -> None:
        super().__init__()
        self.text, self.size, self.space = say(text), size, space
        if bold:
            self.font = BOLD
        else:
            self.font = REGULAR

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """Break the lines for the room given."""
        self.lines = wrapped(self.text, self.font, self.size, room)
        return room, len(self.lines) * self.size * 1.25 + self.space

    def draw(self) -> None:
        """Draw the lines from the top down."""
        block = (self.lines, self.font, self.size)
        _blocks(self.canv, [block], 0, len(self.lines) * self.size * 1.25)


class Heading(Flowable):
    """An area or a room; never left alone at the foot of a sheet."""

    keepWithNext = 1  # noqa: N815  ReportLab's own name

    def __init__(self, text: Value, large: bool, key: str = "") -> None:
        super().__init__()
        self.text, self.large, self.key = say(text), large, key

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """One line, with air above it."""
        self.room = room
        return room, 24 if self.large else 17

    def draw(self) -> None:
        """The words on a rule; an area is an entry of the outline as well."""
        size = 9.5
        if self.large:
            size = 12
        self.canv.setFillColor(INK)
        self.canv.setStrokeColor(INK)
        self.canv.setFont(BOLD, size)
        self.canv.drawString(0, 4, self.text)
        self.canv.setLineWidth(FIRM if self.large else FINE)
        self.canv.line(0, 0, self.room, 0)
        if self.key:
            self.canv.bookmarkPage(self.key)
            self.canv.addOutlineEntry(self.text, self.key, 0)


def _ring(r: float, end: str) -> str:
    """A circle of four curves round the origin, in a page's operators."""
    k = r * 0.5523
    return (
        f"{r:g} 0 m {r:g} {k:.3f} {k:.3f} {r:g} 0 {r:g} c -{k:.3f} {r:g} -{r:g} {k:.3f} -{r:g} 0 c "
        f"-{r:g} -{k:.3f} -{k:.3f} -{r:g} 0 -{r:g} c {k:.3f} -{r:g} {r:g} -{k:.3f} {r:g} 0 c {end}"
    )


_INK = " ".join(f"{part:.4f}" for part in INK.rgb())
PEN = f"{_INK} RG {_INK} rg"
GLYPHS = {
    "ok": "1.2 w -4 0 m -1.333 -3.2 l 4 4 l S",
    "not_to_code": "1.2 w 0 4 m 4.4 -4 l -4.4 -4 l h B",
    NA: "1.2 w -4 0 m 4 0 l S",
    "verify": f"1.2 w {_ring(4, 'S')} {_ring(1.333, 'B')}",
}
"""The shapes of verdicts round the origin, as `draw_verdict` draws them."""


class SheetRow(Flowable):
    """One line: its square, its verdict (if any) by shape and word, what it says.

    What the figures settle has no square: nobody is to answer it.
    """

    def __init__(
        self,
        verdict: str,
        parts: Sequence[tuple[Value, str, float]],
        word: str = "",
        *,
        box: TickBox | None = TickBox.OPEN,
    ) -> None:
        super().__init__()
        self.verdict = verdict
        self.box = box
        self.word = word
        self.parts = [(say(text), font, size) for text, font, size in parts]

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """Break each part into lines for the room given."""
        self.room = room
        self.blocks = [
            (wrapped(text, font, size, room - TEXT_LEFT - 2), font, size)
            for text, font, size in self.parts
            if text
        ]
        tall = sum(len(lines) * size * 1.22 for lines, _, size in self.blocks)
        self.tall = max(tall + 7, TICK + 10)
        return room, self.tall

    def split(self, _room: float, _height: float) -> list[Flowable]:
        """A row stays whole."""
        return []

    def draw(self) -> None:
        """Square, shape and words, over a shade where something must be done."""
        canvas = self.canv
        if self.verdict in ("not_to_code", "info_needed"):
            canvas.setFillColor(SHADE)
            canvas.rect(0, 0, self.room, self.tall, stroke=0, fill=1)
        square = ""
        if self.box is not None:
            foot = self.tall - TICK - 4
            square = SQUARE.format(foot=foot)
            square += f"q 1.6 w 1 0 0 1 2 {foot:.2f} cm {WITHIN[self.box]} Q "
        glyph = GLYPHS.get(self.verdict, "")
        # In the page's own operators: four calls for each of many rows take as long as its words.
        canvas.addLiteral(
            f"q {PEN} {FINE} w 0 0 m {self.room:.2f} 0 l S .8 w "
            f"{square}"
            f"1 0 0 1 {GLYPH_LEFT + 5} {self.tall - 10:.2f} cm {glyph} Q"
        )
        if self.verdict and not glyph:
            draw_verdict(canvas, self.verdict, GLYPH_LEFT + 5, self.tall - 10)
        word = (self.word, GLYPH_LEFT + 12, self.tall - 12.5)
        _blocks(canvas, self.blocks, TEXT_LEFT, self.tall - 3, word)


def draw_verdict(canvas: Canvas, verdict: str, x: float, y: float, r: float = 4) -> None:
    """The shape of a verdict round a centre: stroke, triangle, ring or open square; N/A a dash."""
    canvas.setStrokeColor(INK)
    canvas.setFillColor(INK)
    canvas.setLineWidth(1.2)
    path = canvas.beginPath()
    if verdict == "ok":
        path.moveTo(x - r, y)
        path.lineTo(x - r / 3, y - r * 0.8)
        path.lineTo(x + r, y + r)
        canvas.drawPath(path)
    elif verdict == "not_to_code":
        path.moveTo(x, y + r)
        path.lineTo(x + r * 1.1, y - r)
        path.lineTo(x - r * 1.1, y - r)
        path.close()
        canvas.drawPath(path, fill=1)
    elif verdict == NA:
        canvas.line(x - r, y, x + r, y)
    elif verdict == "verify":
        canvas.circle(x, y, r)
        canvas.circle(x, y, r / 3, fill=1)
    else:
        canvas.setFillColor(PAPER)
        canvas.rect(x - r, y - r, 2 * r, 2 * r, fill=1)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, 2 * r)
        canvas.drawCentredString(x, y - r * 0.7, "?")


class Legend(Flowable):
    """The shapes with their words and counts."""

    def __init__(self, counts: Sequence[tuple[str, Value, Value]]) -> None:
        super().__init__()
        self.counts = counts

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """One strip."""
        self.room = room
        return room, 22

    def draw(self) -> None:
        """Each verdict in its share of the strip."""
        share = self.room / len(self.counts)
        for index, (verdict, counted, words) in enumerate(self.counts):
            x = index * share
            draw_verdict(self.canv, verdict, x + 6, 10)
            self.canv.setFillColor(INK)
            self.canv.setFont(BOLD, 9)
            self.canv.drawString(x + 15, 11, say(counted))
            self.canv.setFont(REGULAR, 6.4)
            self.canv.drawString(x + 15, 3.5, say(words))


class Signature(Flowable):
    """Lines for who walked it and when."""

    def wrap(self, room: float, _height: float) -> tuple[float, float]:
        """One strip with air above."""
        self.room = room
        return room, 46

    def draw(self) -> None:
        """A rule for each, with its label under it."""
        self.canv.setStrokeColor(INK)
        self.canv.setFillColor(INK)
        self.canv.setLineWidth(FINE)
        self.canv.setFont(REGULAR, 6.4)
        third = self.room / 3
        labels = (says.WALKED_BY(), says.SIGNATURE(), says.DATE_AND_TIME())
        for index, label in enumerate(labels):
            left = index * third
            self.canv.line(left, 12, left + third - 14, 12)
            self.canv.drawString(left, 4, say(label))


Block = tuple[Sequence[str], str, float]
"""Lines, their typeface and their size."""


def _blocks(
    canvas: Canvas,
    blocks: Sequence[Block],
    left: float,
    top: float,
    word: tuple[str, float, float] = ("", 0, 0),
) -> None:
    """Blocks of lines one under another, as one object of text: each more costs like a line."""
    canvas.setFillColor(INK)
    text = canvas.beginText(left, top)
    if word[0]:
        text.setFont(BOLD, size_that_fits(word[0], BOLD, 6.6, left - word[1] - 3))
        text.setTextOrigin(*word[1:])
        text.textOut(word[0])
    for lines, font, size in blocks:
        text.setFont(font, size, leading=size * 1.22)
        text.setTextOrigin(left, top - size)
        for line in lines:
            text.textLine(line)
        top -= len(lines) * size * 1.22
    canvas.drawText(text)
