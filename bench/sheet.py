"""A checklist of 400 items as a PDF against the same words put on paper by ReportLab alone:
`python -m bench.sheet`.

The floor is given every string of ours with its place, letters and page, and only draws them.
"""

import sys
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from reportlab.lib.pagesizes import LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.textobject import PDFTextObject

from bench.__main__ import Row, measured_in_turn
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.load import load_house
from inspections.papers.sheets.checklist import checklist_pdf
from inspections.papers.sheets.styles import register_fonts

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "quillet-planted.json"
ITEMS = 400
ROUNDS = 7
GOAL = 1.5
String = tuple[float, float, str, float, str]
"""Where it begins, its typeface and size, its text."""


def main() -> int:
    """Print both times and their ratio; 1 when the goal is missed."""
    what, ours, floor, goal = sheet_row()
    print(
        f"{what}: ours {ours:.0f} ms, bare {floor:.0f} ms, ratio {ours / floor:.2f} (goal {goal})"
    )
    return int(ours / floor > goal or ours > 1000)


def sheet_row() -> Row:
    """The comparison."""
    book = load_rulebook("cec-2021")
    house = load_house(EXAMPLE.read_bytes())
    findings = check(house, book)[:ITEMS]
    pages = _strings(lambda: checklist_pdf(house, book, findings))
    ours, floor = measured_in_turn(
        lambda: checklist_pdf(house, book, findings), lambda: _bare(pages), ROUNDS
    )
    return (f"a checklist of {len(findings)} items as PDF: the same strings", ours, floor, GOAL)


def _strings(make: Callable[[], bytes]) -> list[list[String]]:
    """Every string that is drawn, by page."""
    pages: list[list[String]] = []
    real_format, real_start = PDFTextObject._formatText, Canvas._startPage

    def noted(self: PDFTextObject, text: str) -> str:
        pages[-1].append((self._x, self._y, self._fontname, self._fontsize, text))
        return str(real_format(self, text))

    def started(self: Canvas) -> None:
        pages.append([])
        real_start(self)

    PDFTextObject._formatText, Canvas._startPage = noted, started
    try:
        pages.append([])
        make()
    finally:
        PDFTextObject._formatText, Canvas._startPage = real_format, real_start
    pages = [page for page in pages if page]
    half = len(pages) // 2  # the sheets' frames are drawn in a second round
    found: list[list[String]] = []
    for a, b in zip(pages[:half], pages[half:], strict=True):
        found.append([*a, *b])
    return found


def _bare(pages: list[list[String]]) -> bytes:
    register_fonts()
    output = BytesIO()
    canvas = Canvas(output, pagesize=LETTER, invariant=1)
    for strings in pages:
        for x, y, font, size, text in strings:
            canvas.setFont(font, size)
            canvas.drawString(x, y, text)
        canvas.showPage()
    canvas.save()
    return output.getvalue()


if __name__ == "__main__":
    sys.exit(main())
