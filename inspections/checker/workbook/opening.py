"""What is refused of a zipped file before anything in it is unpacked."""

import zipfile
from io import BytesIO

from . import workbook_messages as words
from .tables import ENTRIES, LARGEST, UNPACKED, WorkbookRefused

OLD = b"\xd0\xcf\x11\xe0"
DAMAGED = (
    zipfile.BadZipFile,  # it is no zip, or was cut off
    ValueError,  # a name that is no text (a UnicodeError is one), an offset before the start
    RuntimeError,  # zipfile raises kinds of it for a version or a packing that it does not read
)
"""What zipfile raises for damaged bytes; each becomes a refusal in words."""


def open_archive(raw: bytes) -> zipfile.ZipFile:
    """The file unzipped entry by entry on demand. Raises Refused.

    No entry gives more bytes than it declares, and what all declare together is bounded here.
    """
    if len(raw) > LARGEST:
        raise WorkbookRefused(words.TOO_LARGE(most=LARGEST // 1_000_000))
    if raw.startswith(OLD):
        raise WorkbookRefused(words.OLD_OR_LOCKED())
    try:
        archive = zipfile.ZipFile(BytesIO(raw))
    except DAMAGED as error:
        raise WorkbookRefused(words.CUT_OFF(why=str(error).lower())) from None
    _refuse_entries(archive.infolist())
    return archive


def _refuse_entries(entries: list[zipfile.ZipInfo]) -> None:
    """Refuse a file by the list of what is within it."""
    if len(entries) > ENTRIES:
        raise WorkbookRefused(words.TOO_MANY_FILES(most=ENTRIES))
    if len({entry.filename for entry in entries}) != len(entries):
        raise WorkbookRefused(words.FILE_TWICE())
    if sum(entry.file_size for entry in entries) > UNPACKED:
        raise WorkbookRefused(words.UNPACKS_LARGE(most=UNPACKED // 1_000_000))
    if any(entry.flag_bits & 1 for entry in entries):
        raise WorkbookRefused(words.PASSWORD())
    for entry in entries:
        _refuse_part(entry.filename.lower())


def _refuse_part(name: str) -> None:
    """Refuse a workbook that holds what a house has no use for, such as macros."""
    for part, why in words.UNWANTED.items():
        if part in name:
            raise WorkbookRefused(why())


def entry(packed: zipfile.ZipFile, name: str) -> bytes:
    """What an entry holds. Raises Refused when it is missing or damaged."""
    try:
        return packed.read(name)
    except KeyError:
        raise WorkbookRefused(words.PART_MISSING(file=name)) from None
    except Exception as error:  # noqa: BLE001 zlib, lzma and zipfile each raise their own
        why = str(error).lower()[:80]
        raise WorkbookRefused(words.PART_DAMAGED(file=name, why=why)) from None
