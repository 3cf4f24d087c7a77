"""A house as CSV files (RFC 4180, UTF-8) in a zip: a file for each sheet of the workbook."""

import csv
import io
import zipfile
from collections.abc import Mapping
from pathlib import PurePosixPath

from ..load.faults import Fault
from .archive import content, opened, refuse
from .cells import Cell
from .columns import sheets
from .tables import MOST_ROWS, Table

STAMP = (1980, 1, 1, 0, 0, 0)
ACTIVE = ("=", "+", "-", "@", "\t", "\r", "'")
"""What a text may begin with that a spreadsheet would take for a formula."""


def write_csv(tables: Mapping[str, Table]) -> bytes:
    """The zip of these tables; the same tables give the same bytes."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for sheet in sheets():
            table = tables[sheet.name]
            text = io.StringIO(newline="")
            writer = csv.writer(text)
            writer.writerow(table.header)
            writer.writerows([_guarded(cell) for cell in row] for row in table.rows)
            name = zipfile.ZipInfo(f"{sheet.name}.csv", STAMP)
            name.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(name, text.getvalue().encode())
    return held.getvalue()


def _guarded(cell: Cell) -> Cell:
    """A text that cannot run as a formula, wherever the file is opened."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(ACTIVE) else cell


def read_csv(raw: bytes) -> tuple[dict[str, Table], list[Fault]]:
    """The tables in a zip of CSV files, and what of them cannot be read.

    Raises HouseFaults when it is no zip, or one that is not taken at all.
    """
    archive, tables, faults = opened(raw), {}, []
    for name in archive.namelist():
        path = PurePosixPath(name)
        if path.suffix.lower() != ".csv":
            if not name.endswith("/"):
                faults.append(Fault(name, "is no CSV file; take it out"))
            continue
        try:
            text = content(archive, name).decode("utf-8-sig")
            rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
        except UnicodeDecodeError:
            faults.append(Fault(name, "is not UTF-8; save it as CSV in UTF-8"))
            continue
        except csv.Error as fault:
            faults.append(Fault(name, f"is no CSV file: {fault}"))
            continue
        if len(rows) > MOST_ROWS:
            faults.append(Fault(name, f"has more than {MOST_ROWS} rows"))
            continue
        header, *cells = rows or [[]]
        found = [[_freed(cell) or None for cell in row] for row in cells]
        tables[path.stem] = Table(path.stem, header, found)
    if not tables:
        raise refuse("the zip holds no CSV file; a house has one for each of its lists")
    return tables, faults


def _freed(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and cell[1:2] and cell[1:].startswith(ACTIVE) else cell
