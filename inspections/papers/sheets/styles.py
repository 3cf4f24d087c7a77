"""One ink, one typeface, fine lines: the look of a drawing sheet."""

import re
from functools import cache, lru_cache
from pathlib import Path

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

INK = HexColor("#14284b")
PAPER = HexColor("#ffffff")
SHADE = Color(0.078, 0.157, 0.294, alpha=0.07)
FINE, FIRM = 0.4, 1.1  # points

REGULAR, BOLD = "Plex", "Plex-SemiBold"
FONTS = Path(__file__).resolve().parents[3] / "static" / "fonts"


@cache
def register_fonts() -> None:
    """Make the typeface known to ReportLab, which embeds only the letters used."""
    for name, file in ((REGULAR, "Regular"), (BOLD, "SemiBold")):
        path = FONTS / f"IBMPlexSansCondensed-{file}.ttf"
        pdfmetrics.registerFont(TTFont(name, str(path)))


def width(text: str, font: str, size: float) -> float:
    """The width of a text in points."""
    points: float = pdfmetrics.stringWidth(text, font, size)
    return points


@lru_cache(maxsize=20_000)
def _word(text: str, font: str) -> float:
    """The width of a word at one point; the words of sheets are few and come again and again."""
    return width(text, font, 1)


@lru_cache(maxsize=200)
def size_that_fits(text: str, font: str, size: float, room: float) -> float:
    """The size, or a smaller one at which the text is no wider than `room`, in points."""
    return min(size, size * room / width(text, font, size))


_SPACES = re.compile(r"[^\S\u00a0]+")
"""Where a line may break: any run of spaces but one that holds a figure together."""
_HELD = re.compile(r"(?<=\d) (?=\d+/\d|ft\b|in\.|cu\.)|\u202f")


def held_together(text: str) -> str:
    """The text with its figures and their units held on one line."""
    return _HELD.sub("\u00a0", text)


@lru_cache(maxsize=4_000)
def wrapped(text: str, font: str, size: float, room: float) -> tuple[str, ...]:
    """The text in lines no wider than `room`; a word wider than that is broken."""
    lines: list[str] = []
    line: list[str] = []
    taken, space = 0.0, _word(" ", font) * size
    for word in _SPACES.split(text.strip()):
        wide = _word(word, font) * size
        while wide > room:
            if line:
                lines.append(" ".join(line))
                line = []
            cut = _fitting(word, font, size, room)
            lines.append(word[:cut])
            word = word[cut:]
            wide = _word(word, font) * size
        if line and taken + space + wide <= room:
            line.append(word)
            taken += space + wide
        elif word:
            if line:
                lines += [" ".join(line)]
            line, taken = [word], wide
    if line or not lines:
        return (*lines, " ".join(line))
    return tuple(lines)


def _fitting(word: str, font: str, size: float, room: float) -> int:
    cut = 1
    while cut < len(word) and width(word[: cut + 1], font, size) <= room:
        cut += 1
    return cut


def fitted(text: str, font: str, size: float, room: float) -> str:
    """The text on one line, cut with an ellipsis where it does not fit."""
    if width(text, font, size) <= room:
        return text
    return text[: _fitting(text, font, size, room - width("…", font, size))] + "…"
