"""A box for a pencil: open, ticked where somebody answered OK, crossed where it is to be fixed.

A bar stands in it where somebody said that a check does not apply.
"""

from enum import Enum, auto

from reportlab.pdfgen.canvas import Canvas

from inspections.papers.sheets.styles import FINE, INK, PAPER

SIDE = 11.0


class TickBox(Enum):
    """What stands in a box."""

    OPEN = auto()
    OK = auto()
    FIX = auto()
    NA = auto()


def draw_tick(canvas: Canvas, tick: TickBox, left: float, bottom: float) -> None:
    """A box with what stands in it."""
    canvas.setStrokeColor(INK)
    canvas.setFillColor(PAPER)
    canvas.setLineWidth(0.8)
    canvas.rect(left, bottom, SIDE, SIDE, fill=1)
    canvas.setLineWidth(1.6)
    if tick is TickBox.OK:
        canvas.line(left + 2, bottom + 5.5, left + 4.5, bottom + 2.5)
        canvas.line(left + 4.5, bottom + 2.5, left + 9.5, bottom + 9)
    elif tick is TickBox.FIX:
        canvas.line(left + 2.5, bottom + 2.5, left + 8.5, bottom + 8.5)
        canvas.line(left + 2.5, bottom + 8.5, left + 8.5, bottom + 2.5)
    elif tick is TickBox.NA:
        canvas.line(left + 2.5, bottom + 5.5, left + 8.5, bottom + 5.5)


def draw_write_in(canvas: Canvas, left: float, bottom: float, wide: float, tall: float) -> None:
    """A box that a hand writes in."""
    canvas.setStrokeColor(INK)
    canvas.setFillColor(PAPER)
    canvas.setLineWidth(FINE)
    canvas.rect(left, bottom, wide, tall, fill=1)
