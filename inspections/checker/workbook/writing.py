"""A house as the rows of every sheet, and those as CSV files in a zip."""

import csv
import zipfile
from collections.abc import Iterator
from io import BytesIO, StringIO
from typing import Any

from ..house import House
from .sheets import CellKind, Column, Sheet, sheets
from .tables import escaped
from .values import Cell, cell_text

Data = dict[str, Any]
SAME_DAY = (2000, 1, 1, 0, 0, 0)
"""The date of every entry, so that the same house gives the same bytes."""


def sheet_rows(house: House | None) -> Iterator[tuple[Sheet, list[list[Cell]]]]:
    """Every sheet and its rows without the headers; none of a house that is not there."""
    data = None
    if house:
        data = house.model_dump(mode="json")
    made: dict[str, list[tuple[tuple[str, ...], Data]]] = {}
    for sheet in sheets():
        if data is None:
            yield sheet, []
            continue
        if not sheet.within:
            row = []
            for column in sheet.columns:
                row.append(_cell(data, column))
            yield sheet, [row] if any(cell is not None for cell in row) else []
            made[sheet.title] = [((), data)]
            continue
        assert sheet.parent is not None
        own = sheet.parent.within != ()
        parts = []
        for keys, owner in made[sheet.parent.title]:
            for part in _at(owner, sheet.within) or ():
                parts.append(((*keys, str(owner["id"])) if own else (), part))
        made[sheet.title] = parts
        found = []
        for keys, part in parts:
            cells = []
            for c in sheet.columns:
                cells.append(_cell(part, c))
            found.append([*keys, *cells])
        yield sheet, found


def _at(part: Any, path: tuple[str, ...]) -> Any:
    for name in path:
        if part is not None:
            part = part.get(name)
    return part


def _cell(part: Data, column: Column) -> Cell:
    """The cell of a value; blank where a blank cell says the same."""
    value = _at(part, column.path)
    if column.kind is CellKind.RECORDED:
        if value is not None:
            return "yes"
        return None
    if value is None:
        return None
    same = value
    if column.several:
        same = tuple(value)
    if not column.required and same == column.default:
        return None
    return cell_text(value, column)


def csv_zip(house: House | None = None) -> bytes:
    """A CSV file a sheet, zipped; with headers alone when there is no house."""
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for sheet, found in sheet_rows(house):
            text = StringIO(newline="")
            writer = csv.writer(text)
            writer.writerow(sheet.headers)
            made = []
            for row in found:
                plains = []
                for cell in row:
                    plains.append(_plain(cell))
                made.append(plains)
            writer.writerows(made)
            entry = zipfile.ZipInfo(f"{sheet.title}.csv", SAME_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            book.writestr(entry, "\ufeff" + text.getvalue())
    return packed.getvalue()


def _plain(cell: Cell) -> str:
    """Text for CSV; a leading apostrophe keeps a program from running text as a formula."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return repr(cell)
    text = escaped(cell)
    if text[:1] in tuple("=+-@'\t\r"):
        return f"'{text}"
    return text
