"""Zipped files that zipfile cannot or will not read are refused in words, whatever it raises."""

import zipfile
from io import BytesIO

import pytest

from inspections.checker.workbook.opening import entry, open_archive
from inspections.checker.workbook.tables import WorkbookRefused

pytestmark = pytest.mark.any_database
DIRECTORY, VERSION, PACKING = b"PK\x01\x02", 6, 10
"""Where an entry of the directory begins, and where in it these two stand (APPNOTE 4.3.12)."""


def packed(**patched: int) -> bytes:
    """A zip with one entry, the directory's bytes at these places made another number."""
    made = BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("Rooms.csv", "id,name\n" * 40)
    raw = bytearray(made.getvalue())
    at = raw.index(DIRECTORY)
    for name, number in patched.items():
        place = at + {"version": VERSION, "packing": PACKING}[name]
        raw[place : place + 2] = number.to_bytes(2, "little")
    return bytes(raw)


def test_a_sound_file_is_opened() -> None:
    assert entry(open_archive(packed()), "Rooms.csv").startswith(b"id,name")


def test_a_version_of_zip_that_nobody_reads_is_refused() -> None:
    with pytest.raises(WorkbookRefused, match=r"zip file version 9\.9"):
        open_archive(packed(version=99))


def test_a_packing_that_nobody_reads_is_refused() -> None:
    with pytest.raises(WorkbookRefused):
        entry(open_archive(packed(packing=77)), "Rooms.csv")
