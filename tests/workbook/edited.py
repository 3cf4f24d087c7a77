"""A workbook of a small house, changed in one way at a time."""

import json
import zipfile
from collections.abc import Callable
from io import BytesIO
from typing import Any

from openpyxl import load_workbook

from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.workbook import csv_zip, xlsx
from tests.load.small import HOUSE

SMALL: House = load_house(json.dumps(HOUSE).encode())
BOOK, CSVS = xlsx(SMALL), csv_zip(SMALL)


def edited(change: Callable[[Any], object]) -> bytes:
    """The workbook after a person changed it in a program."""
    book = load_workbook(BytesIO(BOOK))
    change(book)
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def typed(sheet: str, row: int, header: str, value: Any) -> bytes:
    """The workbook with one value typed into it."""

    def change(book: Any) -> None:
        page = book[sheet]
        headers = [cell.value for cell in page[1]]
        page.cell(row, headers.index(header) + 1).value = value

    return edited(change)


def repacked(raw: bytes, **parts: bytes | None) -> bytes:
    """A zip with entries replaced, added or, with None, left out; __ in a name is a slash."""
    changes = {name.replace("__", "/").replace("_DOT_", "."): v for name, v in parts.items()}
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(raw)) as old, zipfile.ZipFile(out, "w", 8) as new:
        for entry in old.infolist():
            if entry.filename not in changes:
                new.writestr(entry.filename, old.read(entry))
        for name, value in changes.items():
            if value is not None:
                new.writestr(name, value)
    return out.getvalue()


def page_xml(raw: bytes, title: str) -> str:
    """The name of the entry that holds a sheet."""
    with zipfile.ZipFile(BytesIO(raw)) as packed:
        titles = load_workbook(BytesIO(raw)).sheetnames
        name = f"xl/worksheets/sheet{titles.index(title) + 1}.xml"
        assert name in packed.namelist()
        return name


def substituted(raw: bytes, name: str, old: bytes, new: bytes) -> bytes:
    """A zip with text in one of its entries replaced."""
    with zipfile.ZipFile(BytesIO(raw)) as packed:
        text = packed.read(name)
    assert old in text
    return repacked(raw, **{name: text.replace(old, new)})
