"""CSV files in a zip as tables, one file a sheet."""

import csv
import posixpath
from io import StringIO
from zipfile import ZipFile

from . import workbook_messages as words
from .opening import entry
from .tables import CELLS, COLUMNS, EMPTY_ROWS, ROWS, Row, Table, WorkbookRefused, unescaped


def csv_tables(packed: ZipFile) -> list[Table]:
    """Every CSV file as a table. Raises Refused."""
    found, left = [], CELLS
    for name in packed.namelist():
        base = posixpath.basename(name)
        if not base.lower().endswith(".csv") or base.startswith("."):
            continue
        table = Table(base[:-4])
        left = _read(table, entry(packed, name), left)
        found.append(table)
    if not found:
        raise WorkbookRefused(words.NOTHING_WITHIN())
    return found


def _read(table: Table, raw: bytes, left: int) -> int:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        table.faults.append(words.CSV_NOT_UTF_8(byte=error.start))
        return left
    first = text.partition("\n")[0]
    mark = max(",;\t", key=first.count)
    try:
        for number, cells in enumerate(csv.reader(StringIO(text, newline=""), delimiter=mark), 1):
            row: Row = []
            for cell in cells[:COLUMNS]:
                row.append(_value(cell))
            filled = sum(cell is not None for cell in row)
            left -= filled
            if filled:
                table.rows.append((number, row))
            if len(table.rows) > ROWS or number > EMPTY_ROWS or left < 0:
                raise WorkbookRefused(words.TOO_MUCH(sheet=table.title))
    except csv.Error as error:
        table.faults.append(words.CSV_NOT_SOUND(why=str(error)))
    return left


def _value(cell: str) -> str | None:
    text = unescaped(cell[1:] if cell.startswith("'") else cell)
    if text.strip():
        return text
    return None
