"""A house from a file of any kind: a house file, a workbook, or a zip of CSV files."""

from .house import House
from .load import load_house

ARCHIVE = b"PK"


def read_house(raw: bytes) -> House:
    """The house in the bytes, whichever kind of file they are.

    Raises HouseFaults with every fault: of a house file by path, of a workbook by sheet, row and
    column.
    """
    if not raw.startswith(ARCHIVE):
        return load_house(raw)
    from .workbook import read_archive  # heavy, and only here

    return read_archive(raw)[0]


def house_json(raw: bytes) -> bytes:
    """The house file that the bytes are, or the one that says the same. Raises HouseFaults."""
    if not raw.startswith(ARCHIVE):
        load_house(raw)
        return raw
    from .workbook import read_archive

    return read_archive(raw)[1]
