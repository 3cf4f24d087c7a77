"""A house as tables of cells, and tables as a house file's values with where each came from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from ..house import House
from ..load.faults import Fault, path_of
from .cells import Cell, Wrong, parsed, written
from .columns import Column, Kind, Sheet, sheets

Row = Sequence[Cell]
FORMAT = "studbay-house-1"
MOST_ROWS = 20_000


@dataclass
class Table:
    """The cells of one sheet, its header first; `places` names a cell as a person finds it."""

    name: str
    header: Row
    rows: Sequence[Row]
    first: int = 2
    """The number of the first row below the header."""


def house_tables(house: House) -> dict[str, Table]:
    """The tables of a house by the name of their sheet."""
    return {sheet.name: _table(sheet, house) for sheet in sheets()}


def _table(sheet: Sheet, house: House) -> Table:
    header = [*sheet.keys, *(column.header for column in sheet.columns)]
    rows = [
        [*keys, *(_cell(part, column) for column in sheet.columns)]
        for keys, part in _parts(house, sheet)
    ]
    return Table(sheet.name, header, rows)


def _parts(house: House, sheet: Sheet) -> Iterator[tuple[list[str], Any]]:
    """Each part that is a row of the sheet, with the names of the parts it is of."""
    if sheet.table:
        for key, value in getattr(house, sheet.steps[0]).items():
            yield [], {sheet.columns[0].path: key, sheet.columns[1].path: value}
        return
    found: list[tuple[list[str], Any]] = [([], house)]
    for step in sheet.steps:
        inner = []
        for keys, part in found:
            names = (
                [*keys, part.id] if isinstance(part, BaseModel) and hasattr(part, "id") else keys
            )
            for name in step.split("."):
                part = getattr(part, name, None)
            inner += [(names, each) for each in part or ()]
        found = inner
    yield from found


def _cell(part: Any, column: Column) -> Cell:
    if isinstance(part, Mapping):
        return written(part[column.path], column)
    *outer, last = column.path
    for name in outer:
        part = getattr(part, name, None)
    if part is None or last not in type(part).model_fields:
        return None
    value = getattr(part, last)
    if column.kind is Kind.THERE:
        return None if value is None else "yes"
    if column.kind is Kind.NONE:
        return "none" if value is not None and not value else None
    default = type(part).model_fields[last].get_default(call_default_factory=True)
    return None if value == default and type(value) is type(default) else written(value, column)


@dataclass
class Reading:
    """Tables being read: the values so far, where each came from, and every fault."""

    data: dict[str, Any] = field(default_factory=lambda: {"format": FORMAT})
    origins: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    named: dict[tuple[str, ...], tuple[dict[str, Any], tuple[str | int, ...]]] = field(
        default_factory=dict
    )

    def wrong(self, place: str, message: str) -> None:
        """Note a fault."""
        self.faults.append(Fault(place, message))

    def located(self, fault: Fault) -> Fault:
        """A fault of the house file at the cell that the value came from."""
        path = fault.path
        while path and path not in self.origins:
            path = path[: max(path.rfind("."), path.rfind("["), 0)]
        place = self.origins.get(path, "")
        rest = fault.path[len(path) :].lstrip(".") if place else fault.path
        where = f"{place}, {rest.replace('_', ' ')}" if place and rest else place or rest
        return Fault(where, fault.message)


def read_tables(tables: Mapping[str, Table]) -> Reading:
    """The values of a house file that tables hold, and what is wrong with their cells."""
    reading = Reading()
    known = {sheet.name: sheet for sheet in sheets()}
    for name in tables:
        if name not in known:
            reading.wrong(f"sheet {name!r}", f"is not known; there are {', '.join(known)}")
    for sheet in sheets():
        if sheet.name in tables:
            _Sheet(reading, sheet, tables[sheet.name]).read()
    return reading


class _Sheet:
    def __init__(self, reading: Reading, sheet: Sheet, table: Table) -> None:
        self.reading, self.sheet, self.table = reading, sheet, table
        self.at = self._columns()

    def _columns(self) -> dict[int, Column | str]:
        """What each column of the table is; a header that is not known is a fault."""
        wanted: dict[str, Column | str] = {key: key for key in self.sheet.keys}
        wanted |= {_plain(column.header): column for column in self.sheet.columns}
        found: dict[int, Column | str] = {}
        for number, header in enumerate(self.table.header):
            text = _plain(header)
            if text in wanted:
                found[number] = wanted.pop(text)
            elif text:
                self.reading.wrong(self.place(0, number), f"{header!r} is no column of this sheet")
        missing = [key for key in self.sheet.keys if key in wanted]
        if missing and self.table.rows:
            self.reading.wrong(f"sheet {self.table.name!r}", f"has no column {missing[0]!r}")
        return found

    def place(self, row: int, column: int | None = None) -> str:
        """A row, or a cell of it, as a person finds it; row 0 is the header."""
        number = row + self.table.first - 1
        if column is None:
            return f"sheet {self.table.name!r}, row {number}"
        header = self.table.header[column] if column < len(self.table.header) else ""
        letter = letters(column)
        return f"sheet {self.table.name!r}, {letter}{number} ({header})"

    def read(self) -> None:
        """Every row that is not empty."""
        for number, row in enumerate(self.table.rows, 1):
            if number > MOST_ROWS:
                self.reading.wrong(self.place(number), f"more than {MOST_ROWS} rows; take them out")
                return
            if any(cell not in (None, "") for cell in row):
                self._row(number, row)

    def _row(self, number: int, row: Row) -> None:
        keys: dict[str, str] = {}
        values: dict[tuple[str, ...], tuple[Any, str]] = {}
        for column, cell in enumerate(row):
            what = self.at.get(column)
            if what is None:
                if cell not in (None, ""):
                    self.reading.wrong(self.place(number, column), "stands below no known header")
            elif isinstance(what, str):
                keys[what] = _key(cell)
            else:
                self._read_cell(number, column, cell, what, values)
        found = self._target(number, keys)
        if found is not None:
            self._write(number, *found, values, keys)

    def _read_cell(
        self, number: int, at: int, cell: Cell, column: Column, values: dict[tuple[str, ...], Any]
    ) -> None:
        place = self.place(number, at)
        try:
            value = parsed(cell, column)
        except Wrong as fault:
            self.reading.wrong(place, str(fault))
            return
        if value is not None:
            values[column.path] = (([] if column.kind is Kind.NONE else value), place)

    def _target(
        self, number: int, keys: dict[str, str]
    ) -> tuple[dict[str, Any], tuple[str | int, ...]] | None:
        """The value that a row is written into, and its path in the house file."""
        sheet, reading = self.sheet, self.reading
        if not sheet.path:
            return reading.data, ()
        part: dict[str, Any] = reading.data
        path: tuple[str | int, ...] = ()
        if sheet.keys:
            names = tuple(keys.get(key, "") for key in sheet.keys)
            found = reading.named.get((*sheet.path[: len(sheet.keys)], *names))
            if found is None:
                words = ", ".join(f"{k} {n!r}" for k, n in zip(sheet.keys, names, strict=True))
                reading.wrong(self.place(number), f"there is no {words}")
                return None
            part, path = found
        *outer, last = sheet.steps[-1].split(".")
        for name in outer:
            part, path = part.setdefault(name, {}), (*path, name)
        if sheet.table:
            return part.setdefault(last, {}), (*path, last)
        rows = part.setdefault(last, [])
        rows.append({})
        return rows[-1], (*path, last, len(rows) - 1)

    def _write(
        self,
        number: int,
        part: dict[str, Any],
        path: tuple[str | int, ...],
        values: dict[tuple[str, ...], tuple[Any, str]],
        keys: dict[str, str],
    ) -> None:
        reading = self.reading
        if self.sheet.table:
            self._write_pair(number, part, path, values)
            return
        reading.origins.setdefault(path_of(path), self.place(number))
        for inner, (value, place) in values.items():
            target = part
            for name in inner[:-1]:
                target = target.setdefault(name, {})
            if value is True and (self._there(inner)):
                target.setdefault(inner[-1], {})
            else:
                target[inner[-1]] = value
            reading.origins[path_of((*path, *inner))] = place
        own = part.get("id")
        if isinstance(own, str) and self.sheet.path:
            owners = [keys.get(key, "") for key in self.sheet.keys]
            reading.named[(*self.sheet.path, *owners, own)] = (part, path)

    def _there(self, path: tuple[str, ...]) -> bool:
        return any(c.path == path and c.kind is Kind.THERE for c in self.sheet.columns)

    def _write_pair(
        self,
        number: int,
        part: dict[str, Any],
        path: tuple[str | int, ...],
        values: dict[tuple[str, ...], tuple[Any, str]],
    ) -> None:
        key, value = (values.get(column.path) for column in self.sheet.columns)
        if key is None or value is None:
            self.reading.wrong(self.place(number), "needs both a kind and a value")
        elif key[0] in part:
            self.reading.wrong(key[1], f"{key[0]!r} stands twice")
        else:
            part[key[0]] = value[0]
            self.reading.origins[path_of((*path, key[0]))] = value[1]


def _key(cell: Cell) -> str:
    """The name of a part, where a spreadsheet may have made a number of it."""
    whole = isinstance(cell, float) and cell.is_integer()
    return "" if cell is None else str(int(cell) if whole else cell).strip()


def _plain(header: Cell) -> str:
    return " ".join(str(header).split()).lower() if header is not None else ""


def letters(column: int) -> str:
    """The letters of a column: 0 is A, 26 is AA."""
    found = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found
