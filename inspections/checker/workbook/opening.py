"""What is refused of a zipped file before anything in it is unpacked."""

import zipfile
from io import BytesIO

from .tables import ENTRIES, LARGEST, UNPACKED, WorkbookRefused

OLD = b"\xd0\xcf\x11\xe0"
REFUSED_PARTS = {
    "vbaproject": "it holds macros; save it as .xlsx without them",
    "xl/externallinks/": "it is linked to other files; break the links and save it again",
    "xl/connections.xml": "it is connected to outside data; remove the connection",
    "xl/embeddings/": "it has other files embedded; remove them",
    "xl/activex/": "it holds ActiveX controls; remove them",
    "xl/macrosheets/": "it holds macro sheets; remove them",
}
"""Parts of a workbook that no house needs, and what to do."""

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
        raise WorkbookRefused(f"the file is larger than {LARGEST // 1_000_000} MB; a house is not")
    if raw.startswith(OLD):
        raise WorkbookRefused("an old .xls or a file with a password; save it as .xlsx without one")
    try:
        archive = zipfile.ZipFile(BytesIO(raw))
    except DAMAGED as error:
        raise WorkbookRefused(
            f"cut off or damaged: {str(error).lower()}; send the file again"
        ) from None
    _refuse_entries(archive.infolist())
    return archive


def _refuse_entries(entries: list[zipfile.ZipInfo]) -> None:
    """Refuse a file by the list of what is within it."""
    if len(entries) > ENTRIES:
        raise WorkbookRefused(f"more than {ENTRIES} files within it; a house has a few dozen")
    if len({entry.filename for entry in entries}) != len(entries):
        raise WorkbookRefused("a file within it stands twice; save it again")
    if sum(entry.file_size for entry in entries) > UNPACKED:
        raise WorkbookRefused(
            f"it unpacks to more than {UNPACKED // 1_000_000} MB; a house does not"
        )
    if any(entry.flag_bits & 1 for entry in entries):
        raise WorkbookRefused("it has a password; save it without one")
    for entry in entries:
        _refuse_part(entry.filename.lower())


def _refuse_part(name: str) -> None:
    """Refuse a workbook that holds what a house has no use for, such as macros."""
    for part, why in REFUSED_PARTS.items():
        if part in name:
            raise WorkbookRefused(why)


def entry(packed: zipfile.ZipFile, name: str) -> bytes:
    """What an entry holds. Raises Refused when it is missing or damaged."""
    try:
        return packed.read(name)
    except KeyError:
        raise WorkbookRefused(f"{name} is missing within it; save the file again") from None
    except Exception as error:  # noqa: BLE001 zlib, lzma and zipfile each raise their own
        raise WorkbookRefused(f"{name} within it is damaged: {str(error).lower()[:80]}") from None
