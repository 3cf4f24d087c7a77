"""From tables to a house, with every fault by sheet, row and column."""

from typing import Any

from config.messages.message import Listed, Text, Value
from config.messages.saying import said

from ..house import House
from ..load import FAULTS_SHOWN
from ..load.fault_messages import MORE
from ..load.faults import HouseFault, HouseFaults, path_of
from ..load.large import one_at_a_time
from ..load.references import reference_faults
from ..load.shape import shape_faults, validated
from . import workbook_messages as words
from .csv_in import csv_tables
from .opening import open_archive
from .sheets import CellKind, Column, Sheet, sheets
from .tables import Bad, Row, Table, WorkbookRefused
from .values import Cell, Unreadable, cell_value

ASIDE = ("Notes", "Example", "Lists")
"""Sheets of our workbook that hold nothing of the house."""
Place = tuple[int, int, int]
"""Sheet, row and column, for the order of faults; 0 for the sheet or row as a whole."""
Data = dict[str, Any]


def read_workbook(raw: bytes) -> House:
    """The house that an xlsx file, or a zip of CSV files, holds.

    Raises HouseFaults with every fault, by sheet, row and column, or why the file was refused.
    """
    with one_at_a_time():  # a small file may hold much
        try:
            tables = _tables(raw)
        except WorkbookRefused as refused:
            raise HouseFaults((HouseFault("", refused.text),)) from None
        return _Reading(tables).house()


def _tables(raw: bytes) -> list[Table]:
    with open_archive(raw) as packed:
        if "[Content_Types].xml" in packed.namelist():
            from .xlsx_in import xlsx_tables  # openpyxl is heavy, and only here

            return xlsx_tables(packed)
        return csv_tables(packed)


class _Reading:
    """One reading of a file's tables: the values, where each stood, and the faults."""

    def __init__(self, tables: list[Table]) -> None:
        self.faults: list[tuple[Place, HouseFault]] = []
        self.spots: dict[str, tuple[Place, Value]] = {}
        self.data: Data = {}
        self.owners: dict[str, dict[tuple[str, ...], tuple[Data, str]]] = {}
        by_number = self._by_number(tables)
        for number, sheet in enumerate(sheets(), 1):
            if number in by_number:
                self._sheet(number, sheet, by_number[number])
        if 1 not in by_number:
            self._fault((1, 0, 0), "House", words.NO_HOUSE_SHEET())
        for kind in ("storeys", "areas", "rooms"):
            self.data.setdefault(kind, [])

    def _by_number(self, tables: list[Table]) -> dict[int, Table]:
        """The tables by the number of their sheet; those of none, or of one twice, are faults."""
        titles = [sheet.title for sheet in sheets()]
        known = {}
        for number, title in enumerate(titles, 1):
            known[_plain(title)] = number
        by_number: dict[int, Table] = {}
        for table in tables:
            if table.title in ASIDE:
                continue
            number = known.get(_plain(table.title), 0)
            if not number:
                unknown = words.UNKNOWN_SHEET(sheets=", ".join(titles))
                self._fault((0, 0, 0), table.title, unknown)
            elif number in by_number:
                self._fault((number, 0, 0), table.title, words.SHEET_TWICE())
            else:
                by_number[number] = table
        return by_number

    def house(self) -> House:
        """The house, when nothing at all is at fault."""
        house, errors = validated(self.data)
        told = set()
        for _, fault in self.faults:
            told.add(fault.path)
        for fault in (*shape_faults(errors), *reference_faults(self.data)):
            place, where = self._where(fault.path)
            if said(where) not in told:
                self._fault(place, where, fault.says)
        if self.faults or house is None:
            found = [fault for _, fault in sorted(self.faults, key=lambda each: each[0])]
            more = len(found) - FAULTS_SHOWN
            rest = []
            if more > 0:
                rest = [HouseFault("", MORE(n=more))]
            raise HouseFaults((*found[:FAULTS_SHOWN], *rest))
        return house

    def _fault(self, place: Place, where: Value, says: Text) -> None:
        self.faults.append((place, HouseFault(said(where), says, where)))

    def _where(self, path: str) -> tuple[Place, Value]:
        """The nearest place that a path of the house stands at; the House sheet at the last."""
        rest = ""
        while path:
            if found := self.spots.get(path):
                place, where = found
                return place, _within(where, rest)
            cut = max(path.rfind("."), path.rfind("["))
            rest = path[max(cut, 0) :] + rest
            path = path[: max(cut, 0)]
        place, where = self.spots.get("", ((1, 0, 0), "House"))
        return place, _within(where, rest)

    def _sheet(self, number: int, sheet: Sheet, table: Table) -> None:
        for fault in table.faults:
            self._fault((number, 0, 0), sheet.title, fault)
        if not table.rows:
            return
        columns = self._headers(number, sheet, table.rows[0])
        rows = table.rows[1:]
        if not sheet.within and len(rows) > 1:
            where = words.ROW(sheet=sheet.title, row=str(rows[1][0]))
            self._fault((number, rows[1][0], 0), where, words.ONE_ROW())
        for at, row in rows if sheet.within else rows[:1]:
            self._row(number, sheet, columns, at, row)

    def _headers(self, number: int, sheet: Sheet, first: tuple[int, Row]) -> list[int | None]:
        """Which header of the sheet each column of the table is under."""
        known = {_plain(header): index for index, header in enumerate(sheet.headers)}
        columns: list[int | None] = []
        at, row = first
        for column, cell in enumerate(row, 1):
            index = None
            if cell is not None:
                index = known.get(_plain(str(cell)))
            where = words.COLUMN(sheet=sheet.title, row=str(at), column=_letters(column))
            if cell is not None and not isinstance(cell, Bad) and index is None:
                unknown = words.UNKNOWN_HEADER(header=repr(str(cell)[:60]))
                self._fault((number, at, column), where, unknown)
            elif isinstance(cell, Bad):
                self._fault((number, at, column), where, cell.why)
            elif index is not None and index in columns:
                twice = words.HEADER_TWICE(header=repr(str(cell)[:60]))
                self._fault((number, at, column), where, twice)
            columns.append(index)
        return columns

    def _row(self, number: int, sheet: Sheet, columns: list[int | None], at: int, row: Row) -> None:
        cells = self._cells(number, sheet, columns, at, row)
        owner = self._owner(number, sheet, at, cells)
        if owner is None:
            return
        part, path, keys = owner
        own = path
        if not sheet.within and number != 1:
            own = sheet.title.lower()
        self.spots.setdefault(own, ((number, at, 0), words.ROW(sheet=sheet.title, row=str(at))))
        for index, column in enumerate(sheet.columns, len(sheet.keys)):
            if index in cells:
                self._cell(number, sheet, column, at, cells[index], part, path)
        name = part.get("id")
        if sheet.within and isinstance(name, str):
            self.owners.setdefault(sheet.title, {}).setdefault((*keys, name), (part, path))

    def _cells(
        self, number: int, sheet: Sheet, columns: list[int | None], at: int, row: Row
    ) -> dict[int, tuple[int, Cell | Bad]]:
        """The filled cells of a row by their column, each with its place."""
        cells: dict[int, tuple[int, Cell | Bad]] = {}
        for place, cell in enumerate(row):
            if cell is None:
                continue
            index = None
            if place < len(columns):
                index = columns[place]
            if index is None:
                letters = _letters(place + 1)
                where = words.COLUMN(sheet=sheet.title, row=str(at), column=letters)
                self._fault((number, at, place + 1), where, words.NO_HEADER())
            else:
                cells[index] = (place + 1, cell)
        return cells

    def _owner(
        self, number: int, sheet: Sheet, at: int, cells: dict[int, tuple[int, Cell | Bad]]
    ) -> tuple[Data, str, tuple[str, ...]] | None:
        """The values that a row fills, new in its list, with their path; None without one."""
        if not sheet.within:
            return self.data, "", ()
        keys = tuple(_key(cells.get(index)) for index in range(len(sheet.keys)))
        owner: tuple[Data, str] | None = (self.data, "")
        if sheet.keys and sheet.parent is not None:
            owner = self.owners.get(sheet.parent.title, {}).get(keys)
        if owner is None:
            self._no_owner(number, sheet, at, cells, keys)
            return None
        holder, path = owner
        for name in sheet.within[:-1]:
            holder, path = holder.setdefault(name, {}), f"{path}.{name}"
        listed = holder.setdefault(sheet.within[-1], [])
        listed.append({})
        path = f"{path}.{sheet.within[-1]}".removeprefix(".")
        if not sheet.keys:  # what is said of the whole list; else it belongs to the owner's row
            self.spots.setdefault(path, ((number, 0, 0), sheet.title))
        return listed[-1], f"{path}[{len(listed) - 1}]", keys

    def _no_owner(
        self,
        number: int,
        sheet: Sheet,
        at: int,
        cells: dict[int, tuple[int, Cell | Bad]],
        keys: tuple[str, ...],
    ) -> None:
        """Say that the thing which a row names stands on no row of the sheet above."""
        assert sheet.parent is not None
        named = " ".join(key or "(blank)" for key in keys)
        column = 1
        if 0 in cells:
            column = cells[0][0]
        where = words.COLUMN(sheet=sheet.title, row=str(at), column=_letters(column))
        noun = Listed(tuple(sheet.keys))
        missing = words.NO_OWNER(thing=noun, name=repr(named), sheet=sheet.parent.title)
        self._fault((number, at, 1), where, missing)

    def _cell(
        self, number: int, sheet: Sheet, column: Column, at: int, found: tuple[int, Cell | Bad],
        part: Data, path: str,
    ) -> None:  # fmt: skip
        place, cell = found
        spot = (number, at, place)
        where = words.CELL(
            sheet=sheet.title, row=str(at), header=column.header, cell=f"{_letters(place)}{at}"
        )
        full = f"{path}.{path_of(column.path)}".removeprefix(".")
        self.spots[full] = (spot, where)
        if isinstance(cell, Bad):
            self._fault(spot, where, cell.why)
            return
        try:
            value = cell_value(cell, column)
        except Unreadable as unreadable:
            self._fault(spot, where, unreadable.text)
            return
        for name in column.path[:-1]:
            part = part.setdefault(name, {})
        if column.kind is not CellKind.RECORDED:
            part[column.path[-1]] = value
        elif value:
            part.setdefault(column.path[-1], [] if column.a_list else {})


def _key(found: tuple[int, Cell | Bad] | None) -> str:
    cell = None
    if found:
        cell = found[1]
    if isinstance(cell, float) and cell.is_integer():
        cell = int(cell)
    if cell is None or isinstance(cell, Bad):
        return ""
    return str(cell).strip()


def _plain(title: str) -> str:
    return " ".join(title.lower().replace("_", " ").split())


def _within(where: Value, rest: str) -> Value:
    """A place, and what of it is meant where that is not all."""
    if rest.strip("."):
        return words.WITHIN(place=where, part=rest.strip(".").replace("_", " "))
    return where


def _letters(column: int) -> str:
    """A column's letters, as the sheet shows them: 28 is AB."""
    text = ""
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text
