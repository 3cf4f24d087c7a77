"""An xlsx file (ISO 29500) as tables, read cell by cell and bounded on the way.

Only what is needed of the format: values, the last results of formulas, merged ranges, and
whether a number is shown as a date, which is what becomes of a typed 1/2.
"""

import posixpath
import re
from collections.abc import Iterator
from io import BytesIO
from typing import Any
from xml.etree.ElementTree import ParseError
from zipfile import ZipFile

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import iterparse
from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format

from . import workbook_messages as words
from .opening import entry
from .tables import (
    CELLS,
    COLUMNS,
    DEPTH,
    EMPTY_ROWS,
    ROWS,
    TAGS,
    Bad,
    Row,
    Table,
    WorkbookRefused,
    unescaped,
)
from .values import Cell

_BAD_XML = (ParseError, DefusedXmlException, ValueError, LookupError)
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
RELATION_STRICT = "{http://purl.oclc.org/ooxml/officeDocument/relationships}id"


def xlsx_tables(packed: ZipFile) -> list[Table]:
    """Every sheet as a table. Raises Refused."""
    try:
        shared = _shared(packed)
        dates = _date_styles(packed)
        found, left = [], CELLS
        for title, name in _sheets(packed):
            table = Table(title)
            left = _read(table, entry(packed, name), shared, dates, left)
            found.append(table)
    except _BAD_XML as error:
        raise WorkbookRefused(words.NOT_SOUND(why=str(error)[:80])) from None
    return found


def _events(raw: bytes) -> Iterator[tuple[str, Any]]:
    """The elements of a part as they begin and end. Raises Refused.

    Each that is not let go of takes some 300 bytes of memory while the part is read, so a part of
    more than a house can fill is refused before it is read, and one that is nested as it is read.
    """
    if raw.count(b"<") > TAGS:
        raise WorkbookRefused(words.MANY_ELEMENTS(most=TAGS))
    depth = 0
    for event, node in iterparse(BytesIO(raw), events=("start", "end")):
        if event == "end":
            depth -= 1
        else:
            depth += 1
            if depth > DEPTH:
                raise WorkbookRefused(words.DEEP(most=DEPTH))
        yield event, node


def _tree(raw: bytes) -> Any:
    """The root of a part that is read whole. Raises Refused."""
    root: Any = None
    for _, node in _events(raw):
        if root is None:
            root = node
    return root


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _sheets(packed: ZipFile) -> Iterator[tuple[str, str]]:
    book = _tree(entry(packed, "xl/workbook.xml"))
    relations = _tree(entry(packed, "xl/_rels/workbook.xml.rels"))
    targets = {}
    for each in relations:
        if each.get("TargetMode") != "External":
            targets[each.get("Id")] = each.get("Target", "")
    for each in book.iter():
        if _local(each.tag) == "sheet":
            target = targets.get(each.get(RELATION) or each.get(RELATION_STRICT))
            if not target:
                raise WorkbookRefused(words.NO_CONTENTS(sheet=str(each.get("name"))))
            if target.startswith("/"):
                inside = target.lstrip("/")
            else:
                inside = f"xl/{target}"
            yield each.get("name", ""), posixpath.normpath(inside)


def _text(node: Any) -> str:
    """The text of a shared or inline string, its phonetic readings left out."""
    pieces = []
    for child in node:
        if _local(child.tag) == "t":
            pieces.append(child.text or "")
        elif _local(child.tag) == "r":
            for part in child:
                if _local(part.tag) == "t":
                    pieces.append(part.text or "")
    return unescaped("".join(pieces))


def _shared(packed: ZipFile) -> list[str]:
    if "xl/sharedStrings.xml" not in packed.namelist():
        return []
    texts = []
    for event, node in _events(entry(packed, "xl/sharedStrings.xml")):
        if event == "end" and _local(node.tag) == "si":
            texts.append(_text(node))
            node.clear()
    return texts


def _date_styles(packed: ZipFile) -> frozenset[str]:
    """The numbers of the cell styles that show a number as a date."""
    if "xl/styles.xml" not in packed.namelist():
        return frozenset()
    root = _tree(entry(packed, "xl/styles.xml"))
    codes = dict(BUILTIN_FORMATS)
    dates = set()
    for node in root.iter():
        if _local(node.tag) == "numFmt":
            codes[int(node.get("numFmtId", 0))] = node.get("formatCode", "")
    for node in root.iter():
        if _local(node.tag) == "cellXfs":
            for index, style in enumerate(node):
                code = codes.get(int(style.get("numFmtId", 0)), "")
                if is_date_format(code):
                    dates.add(str(index))
    return frozenset(dates)


def _read(table: Table, raw: bytes, shared: list[str], dates: frozenset[str], left: int) -> int:
    """Fill the table; what is left of the cells that the whole file may have."""
    seen, here = 0, 0
    for kind, node in _ended(raw):
        if kind == "row":
            seen += 1
            if seen > EMPTY_ROWS:
                raise WorkbookRefused(words.TOO_MANY_ROWS(sheet=table.title, most=EMPTY_ROWS))
            here = int(node.get("r") or here + 1)
            row, filled = _row(node, shared, dates)
            left -= filled
            if filled:
                table.rows.append((here, row))
            if len(table.rows) > ROWS or left < 0:
                raise WorkbookRefused(words.TOO_MUCH(sheet=table.title))
        elif kind == "mergeCell" and len(table.faults) < 20:
            table.faults.append(words.MERGED(cells=str(node.get("ref"))))
    return left


def _ended(raw: bytes) -> Iterator[tuple[str, Any]]:
    """Each row and merged cell of a sheet as it ends; a row is let go of once it is read."""
    rows: Any = None
    for event, node in _events(raw):
        kind = _local(node.tag)
        if event == "start":
            if kind == "sheetData":
                rows = node
        elif kind in ("row", "mergeCell"):
            yield kind, node
            if kind == "row" and rows is not None:
                rows.clear()


_PLACE = re.compile(r"([A-Z]{1,3})[0-9]+")


def _row(node: Any, shared: list[str], dates: frozenset[str]) -> tuple[Row, int]:
    row: Row = []
    filled, at = 0, 0
    for cell in node:
        if _local(cell.tag) != "c":
            continue
        at = _column(cell.get("r"), at)
        value = _cell(cell, shared, dates)
        if value is None or (isinstance(value, str) and not value.strip()):
            continue
        if at > COLUMNS:
            raise WorkbookRefused(words.FAR_COLUMN(column=str(at), most=COLUMNS))
        row.extend([None] * (at - len(row)))
        row[at - 1] = value
        filled += 1
    return row, filled


def _column(place: str | None, before: int) -> int:
    found = _PLACE.fullmatch(place or "")
    if not found:
        return before + 1
    number = 0
    for letter in found[1]:
        number = number * 26 + ord(letter) - 64
    return number


def _cell(cell: Any, shared: list[str], dates: frozenset[str]) -> Cell | Bad:
    kind: str = cell.get("t", "n")
    text: str | None = None
    inline: str | None = None
    formula = False
    for part in cell:
        name = _local(part.tag)
        if name == "v":
            text = part.text
        elif name == "f":
            formula = True
        elif name == "is":
            inline = _text(part)
    if kind == "inlineStr":
        return inline
    if kind == "e":
        return Bad(words.FORMULA_GIVES(given=str(text)))
    if text is not None:
        return _value(kind, text, shared, is_date=kind == "d" or cell.get("s") in dates)
    if formula:
        return Bad(words.NO_RESULT())
    return None


def _value(kind: str, text: str, shared: list[str], *, is_date: bool) -> Cell | Bad:
    """A cell's text by its type."""
    if kind == "s":
        index = int(text)
        if 0 <= index < len(shared):
            return shared[index]
        return Bad(words.NO_TEXT())
    if kind == "str":
        return unescaped(text)
    if kind == "b":
        return text.strip() == "1"
    if is_date:
        return Bad(words.DATE())
    if set(text) & set(".eE"):
        return float(text)
    return int(text)
