"""Workbooks and archives that are wrong, each in its own way."""

import io
import struct
import zipfile
from collections.abc import Callable, Iterator
from datetime import datetime
from functools import cache, partial
from typing import Any

from openpyxl import load_workbook

from inspections.checker import load_house
from inspections.checker.workbook import house_csv, house_xlsx
from tests.conftest import EXAMPLES

Broken = tuple[str, Callable[[], bytes], str]
"""Its name, what makes its bytes, and a word that the refusal has to say."""


@cache
def sound() -> bytes:
    """A workbook that is right."""
    return house_xlsx(load_house((EXAMPLES / "gannet.json").read_bytes()))


@cache
def sound_csv() -> bytes:
    """A zip of CSV files that is right."""
    return house_csv(load_house((EXAMPLES / "gannet.json").read_bytes()))


def changed(change: Callable[[Any], object]) -> bytes:
    """The workbook with something done to it as a person would."""
    book = load_workbook(io.BytesIO(sound()))
    change(book)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def repacked(raw: bytes, change: Callable[[dict[str, bytes]], object]) -> bytes:
    """An archive with something done to its files."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return held.getvalue()


def column(page: Any, header: str) -> int:
    """The number of a column by its header."""
    return next(cell.column for cell in page[1] if cell.value == header)


CELLS = (
    ("walls", "length (mm)", ("", "long", -1, 0, "=1+1", "#REF!", "3 miles", True)),
    ("walls", "length (mm)", (datetime(2026, 1, 2), "1/0\"", "12 مم", "3,5 m", "５ｍ")),
    ("walls", "turn (degrees)", ("left", 999, "=A1", "٩٠°")),
    ("walls", "outside", ("north", 2)),
    ("counters", "kind", ("", "bar")),
    ("panels", "rating (A)", ("large", -1)),
    ("walls", "kind", ("brick", 7, "=A1")),
    ("walls", "room", ("", "nowhere", "ΔΩ", 12)),
    ("rooms", "kind", ("", "lounge", 3)),
    ("rooms", "area", ("", "attic", 1)),
    ("rooms", "storey", ("", "tenth")),
    ("rooms", "id", ("", "a b", "é", "x" * 41)),
    ("rooms", "closed", ("perhaps", 3, "=TRUE")),
    ("boxes", "room", ("", "nowhere")),
    ("boxes", "place / surface", ("", "roof")),
    ("boxes", "place / at (mm)", ("", "near", -5, 10**9, "1e400")),
    ("boxes", "gangs", ("two", 0, 1.5, 99, "inf", "nan")),
    ("boxes", "volume (mL)", ("much", -1, "=SUM(A1:A9)")),
    ("devices", "kind", ("", "toaster")),
    ("devices", "box", ("", "B999")),
    ("cables", "awg", ("13", "2.5 mm²", "fourteen")),
    ("cables", "ends", ("", "P1", "P1, P1, P1", "nowhere, elsewhere")),
    ("cables", "kind", ("", "rope")),
    ("circuits", "breaker (A)", ("", "big", -15)),
    ("circuits", "slots", ("one", "1.5", "0", "9999")),
    ("circuits", "panel", ("", "P9")),
)  # fmt: skip


def cells() -> Iterator[Broken]:
    """One cell that is wrong."""
    for sheet, header, values in CELLS:
        for value in values:

            def put(book: Any, sheet=sheet, header=header, value=value) -> None:
                page = book[sheet]
                cell = page.cell(2, column(page, header))
                cell.value = None if value == "" else value

            yield f"{sheet}, {header}: {value!r}"[:70], partial(changed, put), sheet


def structures() -> Iterator[Broken]:
    """A workbook that is wrong as a whole."""

    def renamed(book: Any) -> None:
        book["rooms"].title = "Rooms (final)"

    def gone(book: Any) -> None:
        del book["areas"]

    def headed(book: Any) -> None:
        book["walls"]["C1"] = "how long"

    def headless(book: Any) -> None:
        book["walls"].delete_rows(1)

    def merged(book: Any) -> None:
        book["walls"].merge_cells("A2:A3")

    def extra(book: Any) -> None:
        book["walls"].cell(2, 40).value = "stray"

    def twice(book: Any) -> None:
        page = book["rooms"]
        page.append([cell.value for cell in page[2]])

    def foreign(book: Any) -> None:
        book["house"]["A1"] = "имя"

    for name, change, word in (
        ("a renamed sheet", renamed, "Rooms (final)"),
        ("a sheet taken out", gone, "areas"),
        ("a header renamed", headed, "how long"),
        ("a header taken out", headless, "walls"),
        ("merged cells", merged, "unmerge"),
        ("a value below no header", extra, "header"),
        ("a room twice", twice, "rooms"),
        ("a header in another script", foreign, "имя"),
    ):
        yield name, partial(changed, change), word


def archives() -> Iterator[Broken]:
    """Archives that are no workbook, or one that is not taken."""
    for share in (0.01, 0.1, 0.3, 0.6, 0.9, 0.99, 0.999):
        yield f"cut off at {share:.1%}", partial(_cut, share), "save"
    yield "PK and nothing", lambda: b"PK", "cut off"
    yield "PK and noise", lambda: b"PK\x03\x04" + bytes(range(256)) * 20, "save"
    yield "a bomb", _bomb, "unpacks"
    yield "a false size", _false_size, "save"
    for name, change, word in (
        ("macros", partial(_add, "xl/vbaProject.bin"), "macros"),
        ("a link to another file", partial(_add, "xl/externalLinks/externalLink1.xml"), "linked"),
        ("another file within", partial(_add, "xl/embeddings/oleObject1.bin"), "holds another"),
        ("no sheets", lambda files: files.pop("xl/workbook.xml"), "workbook"),
        ("a sheet cut off", _cut_sheet, "workbook"),
        ("entities", _entities, "document type"),
        ("noise for a sheet", _noise, "workbook"),
        ("thousands of files", _many, "files"),
        ("a million empty rows", _empty_rows, "rows"),
    ):
        yield name, partial(_repacked, sound, change), word
    for name, change, word in (
        ("CSV in another encoding", _latin, "UTF-8"),
        ("CSV with an open quote", _quote, "CSV"),
        ("CSV with a sheet of another name", _other, "walls2"),
        ("a zip without CSV", _no_csv, "CSV"),
        ("CSV with a file beside", partial(_add, "a.exe"), "a.exe"),
        ("CSV of too many rows", _long_csv, "rows"),
        ("a path out of the zip", partial(_add, "../../x.csv"), "x"),
    ):
        yield name, partial(_repacked, sound_csv, change), word


def _repacked(make: Callable[[], bytes], change: Callable[[dict[str, bytes]], object]) -> bytes:
    return repacked(make(), change)


def _cut(share: float) -> bytes:
    return sound()[: int(len(sound()) * share)]


def _add(name: str, files: dict[str, bytes]) -> None:
    files[name] = b"x"


def _sheet(files: dict[str, bytes]) -> str:
    return sorted(name for name in files if name.startswith("xl/worksheets/sheet"))[3]


def _cut_sheet(files: dict[str, bytes]) -> None:
    name = _sheet(files)
    files[name] = files[name][: len(files[name]) // 2]


def _noise(files: dict[str, bytes]) -> None:
    files[_sheet(files)] = bytes(range(256))


def _entities(files: dict[str, bytes]) -> None:
    name = _sheet(files)
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    head, _, rest = files[name].partition(b"?>")
    files[name] = (head + b"?>" + bomb + rest) if rest else bomb + files[name]


def _empty_rows(files: dict[str, bytes]) -> None:
    name = _sheet(files)
    rows = b"".join(b'<row r="%d"></row>' % number for number in range(500, 1_000_500))
    last = b'<row r="1048576"><c r="A1048576" t="inlineStr"><is><t>x</t></is></c></row>'
    files[name] = files[name].replace(b"</sheetData>", rows + last + b"</sheetData>")


def _many(files: dict[str, bytes]) -> None:
    files.update({f"xl/media/{number}.png": b"" for number in range(3000)})


def _bomb() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", b"<Types/>")
        archive.writestr("xl/worksheets/sheet1.xml", b" " * 200_000_000)
    return held.getvalue()


def _false_size() -> bytes:
    """A file that says it is small and is not."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("walls.csv", b"x" * 5_000_000)
    raw = bytearray(held.getvalue())
    at = raw.rindex(b"PK\x01\x02")
    raw[at + 24 : at + 28] = struct.pack("<I", 10)
    return bytes(raw)


def _latin(files: dict[str, bytes]) -> None:
    files["rooms.csv"] = files["rooms.csv"] + "Küche".encode("latin-1")


def _quote(files: dict[str, bytes]) -> None:
    files["rooms.csv"] = files["rooms.csv"] + b'"open'


def _other(files: dict[str, bytes]) -> None:
    files["walls2.csv"] = files["walls.csv"]


def _no_csv(files: dict[str, bytes]) -> None:
    for name in list(files):
        files[f"{name}.txt"] = files.pop(name)


def _long_csv(files: dict[str, bytes]) -> None:
    files["walls.csv"] = files["walls.csv"] + b"a,b\r\n" * 30_000


def every() -> list[Broken]:
    """All of them."""
    return [*cells(), *structures(), *archives()]
