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
    if house is None:
        for sheet in sheets():
            yield sheet, []
        return
    data = house.model_dump(mode="json")
    parts_on: dict[str, list[tuple[tuple[str, ...], Data]]] = {}
    for sheet in sheets():
        if sheet.parent is None:
            parts_on[sheet.title] = [((), data)]
            row = _row(sheet, (), data)
            yield sheet, [row] if any(cell is not None for cell in row) else []
            continue
        parts = _parts(sheet, sheet.parent, parts_on[sheet.parent.title])
        parts_on[sheet.title] = parts
        rows = []
        for keys, part in parts:
            rows.append(_row(sheet, keys, part))
        yield sheet, rows


def _parts(
    sheet: Sheet, parent: Sheet, owners: list[tuple[tuple[str, ...], Data]]
) -> list[tuple[tuple[str, ...], Data]]:
    """The parts of a sheet, each with the ids of what it belongs to; the house has none."""
    parts = []
    for keys, owner in owners:
        for part in _at(owner, sheet.within) or ():
            own = keys
            if parent.within:
                own = (*keys, str(owner["id"]))
            parts.append((own, part))
    return parts


def _row(sheet: Sheet, keys: tuple[str, ...], part: Data) -> list[Cell]:
    cells: list[Cell] = [*keys]
    for column in sheet.columns:
        cells.append(_cell(part, column))
    return cells


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
        for sheet, rows in sheet_rows(house):
            text = StringIO(newline="")
            writer = csv.writer(text)
            writer.writerow(sheet.headers)
            for row in rows:
                writer.writerow([_plain(cell) for cell in row])
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
