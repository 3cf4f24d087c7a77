"""The archive that a workbook or a set of CSV files is: opened only when it is of bounded size."""

import zipfile
from io import BytesIO

from ..load.faults import Fault, HouseFaults

LARGEST = 20_000_000  # bytes, packed
UNPACKED = 60_000_000
MOST_FILES = 500


def refuse(message: str, place: str = "") -> HouseFaults:
    """A refusal of the file as a whole."""
    return HouseFaults((Fault(place, message),))


def opened(raw: bytes) -> zipfile.ZipFile:
    """The archive. Raises HouseFaults for what is no archive, or unpacks to too much."""
    if len(raw) > LARGEST:
        raise refuse(f"the file is larger than {LARGEST // 1_000_000} MB; a house is not")
    try:
        archive = zipfile.ZipFile(BytesIO(raw))
        parts = archive.infolist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        raise refuse("the file is cut off or is no workbook; save it again") from None
    if len(parts) > MOST_FILES:
        raise refuse(f"the file holds {len(parts)} files; a workbook holds a few dozen")
    if sum(part.file_size for part in parts) > UNPACKED:
        raise refuse(f"the file unpacks to more than {UNPACKED // 1_000_000} MB; a house does not")
    if any(part.flag_bits & 1 for part in parts):
        raise refuse("the file is locked with a password; save it without")
    return archive


def content(archive: zipfile.ZipFile, name: str) -> bytes:
    """One file of the archive, never more of it than it says it has."""
    try:
        size = archive.getinfo(name).file_size
        with archive.open(name) as file:
            found = file.read(size + 1)
    except (zipfile.BadZipFile, KeyError, OSError, EOFError, NotImplementedError, ValueError):
        raise refuse("cannot be unpacked; save the file again", name) from None
    except Exception as fault:  # zlib's own error is named differently from build to build
        raise refuse("cannot be unpacked; save the file again", name) from fault
    if len(found) > size:
        raise refuse("unpacks to more than it says; save the file again", name)
    return found
