"""House workbooks: a house as xlsx or as CSV files in a zip, and back, every fault at once."""

from ..house import House
from ..load import load_house
from .reading import read_workbook
from .writing import csv_zip

__all__ = ["csv_zip", "house_json", "read_house", "read_workbook", "xlsx"]

ZIPPED, OLD = b"PK", b"\xd0\xcf\x11\xe0"


def read_house(raw: bytes) -> House:
    """The house in a file of any kind: JSON, xlsx, or CSV in a zip. Raises HouseFaults."""
    if raw.startswith((ZIPPED, OLD)):
        return read_workbook(raw)
    return load_house(raw)


def house_json(raw: bytes) -> bytes:
    """A file of any kind as a house file in JSON; one that is JSON stays as it is, unread.

    Raises HouseFaults with every fault of a workbook or zip.
    """
    if not raw.startswith((ZIPPED, OLD)):
        return raw
    return read_workbook(raw).model_dump_json(indent=1, exclude_defaults=True).encode()


def xlsx(house: House | None = None) -> bytes:
    """The workbook of a house; an empty one to fill in when there is none."""
    from .xlsx_out import write_xlsx as written  # openpyxl is heavy, and only here

    return written(house)
