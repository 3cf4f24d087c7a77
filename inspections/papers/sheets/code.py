"""A QR code on a sheet."""

import segno
from reportlab.pdfgen.canvas import Canvas

from inspections.papers.sheets.styles import INK, PAPER

QUIET = 4  # modules of white that a QR code needs round it


def draw_code(
    canvas: Canvas, address: str, left: float, bottom: float, side: float, error: str = "q"
) -> None:
    """The code of an address as a square: each dark module by itself."""
    modules = []
    for row in segno.make(address, error=error).matrix:
        modules.append(list(row))
    step = side / (len(modules) + 2 * QUIET)
    canvas.setFillColor(PAPER)
    canvas.rect(left, bottom, side, side, stroke=0, fill=1)
    canvas.setFillColor(INK)
    for row, dark_in_row in enumerate(modules):
        top = bottom + side - (row + QUIET) * step
        for column, dark in enumerate(dark_in_row):
            if dark:
                x = left + (column + QUIET) * step
                canvas.rect(x, top - step, step, step, stroke=0, fill=1)
