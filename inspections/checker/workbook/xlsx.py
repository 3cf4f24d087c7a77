"""Workbooks (Office Open XML, ECMA-376) of a house: written with notes and lists, and read."""

import zipfile
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from io import BytesIO
from typing import Any
from xml.etree.ElementTree import ParseError

from openpyxl import Workbook, load_workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.datavalidation import DataValidation

from ..load.faults import Fault, HouseFaults
from .archive import content, opened, refuse
from .cells import Cell
from .columns import Column, Sheet, sheets
from .tables import MOST_ROWS, Table, letters

CHOICES = "choices"
"""The sheet that the drop-down lists are read from."""
NOTES = "read me"
OWN = (CHOICES, NOTES)
LISTED_ROWS = 2_000
FORBIDDEN = (
    ("vbaproject", "holds macros; save it as a workbook without macros"),
    ("externallinks/", "is linked to another file; break the links and save it again"),
    ("embeddings/", "holds another file; take it out and save it again"),
)
NOTE_LINES = (
    "One sheet a list. A row is one part; the first columns of a sheet name the part it is of.",
    "Leave empty what nobody measured: the checklist then asks for it. Nothing passes unknown.",
    "Lengths: 3810 is millimetres; 3.81 m, 381 cm and 12' 6\" are read as well.",
    "Sizes of conductors: AWG (14, 1/0) or kcmil (250), or the cross-section: 2.08 mm².",
    "Several values in one cell: with commas between. None at all, and known to be so: none.",
    "Write values, no formulas. Keep the headers and the names of the sheets.",
    "An example of a row stands below for each sheet.",
)


def write_xlsx(tables: Mapping[str, Table], examples: Mapping[str, Table] | None = None) -> bytes:
    """A workbook with these tables; `examples` gives the rows that the first sheet shows."""
    book = Workbook(write_only=True)
    lists = _choices()
    _write_notes(book.create_sheet(NOTES), examples or {})
    for sheet in sheets():
        _write_sheet(book.create_sheet(sheet.name), sheet, tables[sheet.name], lists)
    choices = book.create_sheet(CHOICES)
    choices.sheet_state = "hidden"
    for row in range(max(map(len, lists))):
        choices.append([each[row] if row < len(each) else None for each in lists])
    held = BytesIO()
    book.save(held)
    return held.getvalue()


def _choices() -> list[tuple[str, ...]]:
    return list(dict.fromkeys(c.choices for sheet in sheets() for c in sheet.columns if c.choices))


def _write_notes(page: Any, examples: Mapping[str, Table]) -> None:
    page.column_dimensions["A"].width = 20
    page.column_dimensions["B"].width = 110
    for line in NOTE_LINES:
        page.append(["", line])
    page.append([])
    for sheet in sheets():
        table = examples.get(sheet.name)
        row = table.rows[0] if table and table.rows else ()
        pairs = zip(table.header, row, strict=False) if table else ()
        words = "; ".join(f"{h}: {cell}" for h, cell in pairs if cell not in (None, ""))
        page.append([_cell(page, sheet.name, bold=True), _cell(page, words or sheet.note)])


def _write_sheet(page: Any, sheet: Sheet, table: Table, lists: list[tuple[str, ...]]) -> None:
    if not sheet.path:
        _write_upright(page, sheet, table, lists)
        return
    page.freeze_panes = "B2"
    notes = {column.header: column for column in sheet.columns}
    for number, header in enumerate(table.header):
        page.column_dimensions[letters(number)].width = max(11, min(30, len(str(header)) + 3))
        column = notes.get(str(header))
        if column and column.choices:
            where = f"{letters(number)}2:{letters(number)}{LISTED_ROWS}"
            page.data_validations.append(_list(column, lists, where))
    page.append([_header(page, str(header), notes.get(str(header))) for header in table.header])
    for row in table.rows:
        page.append([_cell(page, cell) for cell in row])


def _write_upright(page: Any, sheet: Sheet, table: Table, lists: list[tuple[str, ...]]) -> None:
    """The house itself, of which there is one: a line for each field."""
    page.column_dimensions["A"].width = 44
    page.column_dimensions["B"].width = 40
    row = table.rows[0] if table.rows else [None] * len(sheet.columns)
    for number, (column, cell) in enumerate(zip(sheet.columns, row, strict=True), 1):
        if column.choices:
            page.data_validations.append(_list(column, lists, f"B{number}"))
        page.append([_header(page, column.header, column), _cell(page, cell)])


def _list(column: Column, lists: list[tuple[str, ...]], where: str) -> DataValidation:
    letter = letters(lists.index(column.choices))
    source = f"{CHOICES}!${letter}$1:${letter}${len(column.choices)}"
    rule = DataValidation(
        type="list", formula1=source, allow_blank=True, showErrorMessage=not column.many
    )
    rule.add(where)
    return rule


def _header(page: Any, text: str, column: Column | None) -> Any:
    cell = WriteOnlyCell(page, text)
    cell.font = Font(bold=True)
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    if column and not column.optional:
        cell.fill = PatternFill("solid", fgColor="EEF1F6")
    note = column.note if column else "Names the part that this row is of."
    needed = " It is needed." if column and not column.optional else ""
    if note or needed:
        cell.comment = Comment(f"{note}{needed}".strip(), "Studbay")
    return cell


def _cell(page: Any, value: Cell, *, bold: bool = False) -> Any:
    cell: Any = WriteOnlyCell(page)
    if isinstance(value, float) and float(f"{value:.16g}") != value:
        value = repr(value)  # a workbook keeps sixteen digits of a number
    if isinstance(value, str):
        cell.data_type, cell._value = "s", value  # never a formula, whatever it begins with
        cell.number_format = "@"
    else:
        cell.value = value
    if bold:
        cell.font = Font(bold=True)
    return cell


def read_xlsx(raw: bytes) -> tuple[dict[str, Table], list[Fault]]:
    """The tables of a workbook, and what of it cannot be read.

    Raises HouseFaults when it is no workbook, or one that is not taken at all.
    """
    archive = opened(raw)
    _refuse_parts(archive)
    merged = _merged(archive)
    try:
        book = load_workbook(BytesIO(raw), read_only=True, data_only=False, keep_links=False)
        faults: list[Fault] = []
        tables = {}
        pages: list[Any] = book.worksheets
        for page in pages:
            if page.title in OWN:
                continue
            if page._worksheet_path.lstrip("/") in merged:
                faults.append(Fault(f"sheet {page.title!r}", "has merged cells; unmerge them"))
            tables[page.title] = _read_sheet(page, faults)
        return tables, faults
    except HouseFaults:
        raise
    except (ParseError, InvalidFileException, KeyError, ValueError, TypeError, OSError) as fault:
        raise refuse(f"cannot be read as a workbook: {str(fault)[:120]}; save it again") from None
    except Exception as fault:  # whatever else a broken file makes of a library
        text = f"{type(fault).__name__} {str(fault)[:120]}"
        raise refuse(f"cannot be read as a workbook ({text}); save it again") from fault


def _merged(archive: zipfile.ZipFile) -> set[str]:
    """The sheets with merged cells. Raises HouseFaults when one has more rows than a house."""
    found = set()
    for name in archive.namelist():
        if name.startswith("xl/worksheets/"):
            text = content(archive, name)
            if text.count(b"<row") > MOST_ROWS:
                raise refuse(f"has more than {MOST_ROWS} rows; take the empty ones out", name)
            if b"<mergeCell " in text:
                found.add(name)
    return found


def _refuse_parts(archive: zipfile.ZipFile) -> None:
    for name in archive.namelist():
        for part, message in FORBIDDEN:
            if part in name.lower():
                raise refuse(f"the workbook {message}")
        if name.endswith((".xml", ".rels")) and b"<!DOCTYPE" in content(archive, name)[:2048]:
            raise refuse("has a document type of its own, which a workbook has not", name)


def _read_sheet(page: Any, faults: list[Fault]) -> Table:
    rows = _rows(page, faults)
    if page.title == sheets()[0].name:
        pairs = [(row[0], row[1] if len(row) > 1 else None) for row in rows if row]
        return Table(page.title, [key for key, _ in pairs], [[value for _, value in pairs]])
    header = next(rows, [])
    return Table(page.title, header, list(rows))


def _rows(page: Any, faults: list[Fault]) -> Iterator[list[Cell]]:
    empty = 0
    for number, row in enumerate(page.iter_rows(), 1):
        found = [_value(page.title, cell, faults) for cell in row]
        while found and found[-1] is None:
            found.pop()
        if not found:
            empty += 1
            continue
        if number - empty > MOST_ROWS:
            faults.append(Fault(f"sheet {page.title!r}", f"has more than {MOST_ROWS} rows"))
            return
        yield from ([] for _ in range(min(empty, MOST_ROWS)))
        empty = 0
        yield found


def _value(sheet: str, cell: Any, faults: list[Fault]) -> Cell:
    value = cell.value
    if value is None or value == "":
        return None
    place = f"sheet {sheet!r}, {cell.coordinate}"
    if cell.data_type == "f" or not isinstance(value, (str, int, float, datetime, date, time)):
        faults.append(Fault(place, "holds a formula; write its value"))
    elif cell.data_type == "e":
        faults.append(Fault(place, f"holds the error {value}; write a value"))
    elif isinstance(value, (datetime, date, time)):
        faults.append(Fault(place, "holds a date; write it as text, as '1/0"))
    else:
        return value
    return None
