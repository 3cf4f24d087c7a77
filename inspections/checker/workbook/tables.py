"""A workbook as tables: rows of cells by sheet, whichever file they came from."""

import re
from dataclasses import dataclass, field

from config.messages.message import Text
from config.messages.saying import said

from .values import Cell

LARGEST = 5_000_000  # bytes of a workbook or zip as it arrives
UNPACKED = 6_000_000  # bytes of it unpacked; a house of 300 boxes is under two million
ENTRIES = 300  # files within it
ROWS = 20_000  # rows of a sheet that have something in them
EMPTY_ROWS = 200_000  # rows of a sheet, empty ones with them
CELLS = 150_000  # filled cells of a file
COLUMNS = 400
TAGS = 400_000  # marks that begin or end an element in one part; a house of 118 boxes has 6,000
DEPTH = 40  # elements within one another; a sheet has seven


@dataclass(frozen=True, slots=True)
class Bad:
    """A cell that cannot be used, and why."""

    why: Text


Row = list[Cell | Bad]


@dataclass(slots=True)
class Table:
    """A sheet's filled rows with their numbers, and what is wrong with the sheet itself."""

    title: str
    rows: list[tuple[int, Row]] = field(default_factory=list)
    faults: list[Text] = field(default_factory=list)


class WorkbookRefused(Exception):
    """A file that is not read at all. `text` says why and what to do."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(said(text))


_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_TO_ESCAPE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\ufffe\uffff\ud800-\udfff]|_(?=x[0-9A-Fa-f]{4}_)"
)


def escaped(text: str) -> str:
    """Text as a sheet may hold it: what XML refuses is written `_x0000_`, as ISO 29500 has it."""
    return _TO_ESCAPE.sub(lambda found: f"_x{ord(found[0]):04X}_", text)


def unescaped(text: str) -> str:
    """The text that such text stands for."""
    if "_x" in text:
        return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text)
    return text
