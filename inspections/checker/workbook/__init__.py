"""Houses as workbooks and as CSV files: what a person fills in who has no drawing at hand."""

import json

from ..house import House
from ..load import HouseFaults, load_house
from .columns import sheets
from .csv_files import read_csv, write_csv
from .tables import Table, house_tables, read_tables
from .xlsx import read_xlsx, write_xlsx

__all__ = ["house_csv", "house_xlsx", "read_archive"]

FAULTS_SHOWN = 500


def house_xlsx(house: House | None, example: House | None = None) -> bytes:
    """The workbook of a house, or an empty one; `example` gives its first sheet's rows."""
    tables = house_tables(house) if house else _empty()
    return write_xlsx(tables, house_tables(example) if example else None)


def house_csv(house: House) -> bytes:
    """The zip of CSV files of a house."""
    return write_csv(house_tables(house))


def _empty() -> dict[str, Table]:
    return {
        sheet.name: Table(sheet.name, [*sheet.keys, *(c.header for c in sheet.columns)], [])
        for sheet in sheets()
    }


def read_archive(raw: bytes) -> tuple[House, bytes]:
    """The house in a workbook or in a zip of CSV files, and the house file that says the same.

    Raises HouseFaults with every fault, by sheet, row and column.
    """
    workbook = b"[Content_Types].xml" in raw
    tables, faults = read_xlsx(raw) if workbook else read_csv(raw)
    reading = read_tables(tables)
    faults += reading.faults
    text = json.dumps(reading.data, ensure_ascii=False, indent=1).encode("utf-8", "surrogatepass")
    try:
        house = load_house(text)
    except HouseFaults as found:
        faults += [reading.located(fault) for fault in found.faults]
    if faults:
        raise HouseFaults(tuple(dict.fromkeys(faults))[:FAULTS_SHOWN])
    return house, text
