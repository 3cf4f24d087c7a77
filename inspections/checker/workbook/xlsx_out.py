"""A house as an xlsx workbook: a sheet a list, choices to pick from, notes and an example."""

from io import BytesIO
from typing import Any

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from ..house import House
from .example import example
from .sheets import CellKind, Column, Sheet, sheets
from .tables import escaped
from .values import Cell
from .writing import sheet_rows

NOTES = (
    "One sheet for each kind of thing. Row 1 holds the headings: leave them as they are.",
    "A heading shows its unit. A plain figure is in that unit; others may be typed behind it.",
    'Lengths: 3810, 3810 mm, 381 cm, 3.81 m, 12\' 6", 12\' 6 1/2", 12 ft 6 in, 6 1/2".',
    "Wire sizes: 14, 14 AWG, 2/0, 250 kcmil, 2.08 mm². The area must be that of an AWG size.",
    "Leave blank what nobody measured or looked at: it is asked for, and never taken as good.",
    "Walls of a room: clockwise as seen from above, each seen from inside, left to right.",
    "Whatever stands on a wall is measured from the wall's left end as you face it from inside.",
    "Several values in one cell are parted by semicolons; (none) is a list known to be empty.",
    "Keep rows of one thing in their order: walls, openings and devices are read top to bottom.",
    "Hold the pointer over a heading to read what belongs there. Bold headings must be filled in.",
    "The sheets Notes, Example and Lists are not read.",
)
IDS = {
    "room": "Rooms", "area": "Areas", "storey": "Storeys", "circuit": "Circuits",
    "second circuit": "Circuits", "panel": "Panels", "counter": "Counters", "box": "Boxes",
    "cable": "Cables", "place counter": "Counters", "shares neutral with": "Circuits",
    "rulebook": "",
}  # fmt: skip
"""Headers that name a thing of another sheet, whose ids are offered."""
LAST = 2000  # the last row that has choices to pick from
HEAD = PatternFill("solid", fgColor="E8ECEF")


def write_xlsx(house: House | None = None) -> bytes:
    """The workbook of a house; an empty one to fill in when there is none."""
    book = Workbook()
    _notes(book.active)
    lists = book.create_sheet("Lists")
    lists.sheet_state = "hidden"
    chosen: dict[tuple[str, ...], str] = {}
    for sheet, found in sheet_rows(house):
        page = book.create_sheet(sheet.title)
        _head(page, sheet)
        for at, row in enumerate(found, 2):
            for place, cell in enumerate(row, 1):
                if cell is not None:
                    _write(page.cell(at, place), cell)
        if house is None and sheet.title == "House":
            _write(page.cell(2, 1), "studbay-house-1")
        _choices(page, sheet, lists, chosen)
    _example(book.create_sheet("Example"))
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def _write(cell: Any, value: Cell) -> None:
    """A value as it is: text that begins with = stays text, a long figure keeps all its digits."""
    if isinstance(value, float) and float(f"{value:.16g}") != value:  # openpyxl writes 16 digits
        value = repr(value)
    if isinstance(value, str):
        cell.value = escaped(value)
        cell.data_type = "s"
        cell.number_format = "@"
    else:
        cell.value = value


def _notes(page: Any) -> None:
    page.title = "Notes"
    page.column_dimensions["A"].width = 100
    page.cell(1, 1, "How to fill in this house").font = Font(bold=True, size=14)
    for at, line in enumerate(NOTES, 3):
        page.cell(at, 1, line).alignment = Alignment(wrap_text=True, vertical="top")


def _head(page: Any, sheet: Sheet) -> None:
    page.freeze_panes = page.cell(2, len(sheet.keys) + 2 if sheet.within else 1)
    known: dict[str, Column] = {column.header: column for column in sheet.columns}
    for place, header in enumerate(sheet.headers, 1):
        cell = page.cell(1, place, header)
        column = None
        if place > len(sheet.keys):
            column = known.get(header)
        must = column is None or column.required
        cell.font, cell.fill = Font(bold=must), HEAD
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        letter = get_column_letter(place)
        page.column_dimensions[letter].width = max(10, min(24, len(header) + 2))
        if column is not None and column.kind in (CellKind.TEXT, CellKind.GAUGE):
            page.column_dimensions[letter].number_format = "@"
        note = "Which one this row belongs to."
        if column:
            note = column.note
        if note:
            cell.comment = Comment(note, "Studbay", width=320, height=110)


def _choices(page: Any, sheet: Sheet, lists: Any, chosen: dict[tuple[str, ...], str]) -> None:
    titles = {}
    for each in sheets():
        titles[each.title] = each
    keys: list[Column | None] = [None] * len(sheet.keys)
    columns = [*keys, *sheet.columns]
    for place, (header, column) in enumerate(zip(sheet.headers, columns, strict=True), 1):
        if column is not None and column.several:
            continue
        source = ""
        if column is not None and column.choices:
            source = _listed(column.choices, lists, chosen)
        elif title := IDS.get(header):
            letter = get_column_letter(len(titles[title].keys) + 1)
            source = f"'{title}'!${letter}$2:${letter}${LAST}"
        if source:
            rule = DataValidation("list", formula1=source, allow_blank=True)
            rule.showErrorMessage = False  # other ways to write it are read as well
            letter = get_column_letter(place)
            rule.add(f"{letter}2:{letter}{LAST}")
            page.add_data_validation(rule)


def _listed(choices: tuple[str, ...], lists: Any, chosen: dict[tuple[str, ...], str]) -> str:
    """Where a list of choices stands on the hidden sheet; written there once."""
    if choices not in chosen:
        place = len(chosen) + 1
        for at, choice in enumerate(choices, 1):
            _write(lists.cell(at, place), choice)
        letter = get_column_letter(place)
        chosen[choices] = f"Lists!${letter}$1:${letter}${len(choices)}"
    return chosen[choices]


def _example(page: Any) -> None:
    """A small house as it would stand on the sheets, one under another."""
    at = 1
    for sheet, found in sheet_rows(example()):
        filled = []
        for place in range(len(sheet.headers)):
            if any(row[place] is not None for row in found):
                filled.append(place)
        if not filled:
            continue
        page.cell(at, 1, f"On the sheet {sheet.title}").font = Font(bold=True)
        for place, index in enumerate(filled, 1):
            head = page.cell(at + 1, place, sheet.headers[index])
            head.fill, head.alignment = HEAD, Alignment(wrap_text=True, vertical="top")
            for down, row in enumerate(found, 2):
                if row[index] is not None:
                    _write(page.cell(at + down, place), row[index])
        at += len(found) + 3
    for place in range(1, 20):
        page.column_dimensions[get_column_letter(place)].width = 16
