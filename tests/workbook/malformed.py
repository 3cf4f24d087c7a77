"""Malformed workbooks and zips, and what the answer must say of each."""

import zipfile
from collections.abc import Callable
from datetime import date
from functools import partial
from io import BytesIO
from typing import Any

from .edited import BOOK, CSVS, edited, page_xml, repacked, substituted, typed

WALL = "length (mm)"

CELLS: dict[str, tuple[str, int, str, Any, str]] = {
    "a word for a length": ("Walls", 2, WALL, "long", "Walls row 2, length (mm) (C2): must be"),
    "Arabic digits": ("Walls", 2, WALL, "٤٠٠٠", "Walls row 2"),
    "a unit in another script": ("Walls", 2, WALL, "4 м", "Walls row 2"),
    "full-width digits": ("Walls", 2, WALL, "４０００", "Walls row 2"),
    "an unknown unit": ("Walls", 2, WALL, "4 cubits", "Walls row 2"),
    "yards": ("Walls", 2, WALL, "4 yd", "Walls row 2"),
    "a comma in a figure": ("Walls", 2, WALL, "4,000", "Walls row 2"),
    "feet over nothing": ("Walls", 2, WALL, "12' 6 1/0\"", "Walls row 2"),
    "feet and rubbish": ("Walls", 2, WALL, "12' 6\" x", "Walls row 2"),
    "a negative length": ("Walls", 2, WALL, -1, "more than 0"),
    "negative feet": ("Walls", 2, WALL, "-3'", "more than 0"),
    "no length": ("Walls", 2, WALL, None, "length mm: is missing"),
    "a length of nothing": ("Walls", 2, WALL, 0, "more than 0"),
    "a length of a thousand kilometres": ("Walls", 2, WALL, 1e9, "at most"),
    "a date for a length": ("Walls", 2, WALL, date(2026, 1, 2), "made a date of it"),
    "a truth for a length": ("Walls", 2, WALL, True, "must be a number"),
    "text of a million letters": ("Walls", 2, WALL, "1" * 30_000, "longer than"),
    "a formula without a result": ("Walls", 2, WALL, "=1+1", "formula without a result"),
    "a formula that divides by nothing": ("Walls", 2, WALL, "#DIV/0!", "a formula gives #DIV/0!"),
    "a lost reference": ("Rooms", 2, "id", "#REF!", "Rooms row 2, id (A2): a formula gives #REF!"),
    "a name that no program knows": ("Boxes", 2, "room", "#NAME?", "a formula gives #NAME?"),
    "a value not there": ("Boxes", 2, "area", "#N/A", "a formula gives #N/A"),
    "a wall that does not close": ("Walls", 2, WALL, 9000, "Rooms row 2, walls: end"),
    "a wall twice": ("Walls", 3, "id", "n", "is there twice"),
    "a wall without a name": ("Walls", 2, "id", None, "is missing"),
    "a wall of no room": ("Walls", 2, "room", "attic", "there is no room 'attic'"),
    "a wall of a blank room": ("Walls", 2, "room", None, "there is no room"),
    "an opening of no wall": ("Openings", 2, "wall", "q", "there is no room and wall 'den q'"),
    "an opening beyond its wall": ("Openings", 2, "at (mm)", "13 ft", "Openings row 2"),
    "an opening of no kind": ("Openings", 2, "kind", "hatch", "must be one of door"),
    "an opening without a kind": ("Openings", 2, "kind", None, "kind: is missing"),
    "a swing up": ("Openings", 2, "swing", "up", "must be one of none, left, right"),
    "a sill below": ("Openings", 3, "sill (mm)", -5, "at least 0"),
    "a turn too far": ("Walls", 2, "turn (°)", 400, "at most 180"),
    "a room of no kind": ("Rooms", 2, "kind", "ballroom", "must be one of living"),
    "a room in no area": ("Rooms", 2, "area", "nowhere", "Rooms row 2, area"),
    "a room on no storey": ("Rooms", 2, "storey", "third", "Rooms row 2, storey"),
    "a room with no name": ("Rooms", 2, "name", None, "name: is missing"),
    "a name too long": ("Rooms", 2, "name", "x" * 121, "at most 120 characters"),
    "an id with a space": ("Rooms", 2, "id", "the den", "must be a short name"),
    "an id in another script": ("Rooms", 2, "id", "комната", "must be a short name"),
    "half a vehicle": ("Rooms", 2, "vehicle bays", 1.5, "must be a whole number"),
    "a maybe": ("Rooms", 2, "closed", "perhaps", "must be yes or no"),
    "no joins but a list of nonsense": ("Rooms", 2, "joins", "a b; c", "must be a short name"),
    "another format": ("House", 2, "format", "house-9", "must be one of studbay-house-1"),
    "no format": ("House", 2, "format", None, "format: is missing"),
    "no house name": ("House", 2, "name", None, "name: is missing"),
    "a note too long": ("House", 2, "note", "x" * 501, "at most 500 characters"),
    "a counter of no kind": ("Counters", 2, "kind", "bench", "must be one of wall"),
    "a counter in no room": ("Counters", 2, "room", "attic", "Counters row 2, room"),
    "a stretch of no counter": ("Counter walls", 2, "counter", "K9", "there is no counter 'K9'"),
    "a stretch of no wall": ("Counter walls", 2, "wall", "q", "Counter walls row 2"),
    "a sink of no width": ("Sinks and ranges", 2, "width (mm)", None, "is missing"),
    "a sink beyond": ("Sinks and ranges", 2, "at (mm)", "20 m", "Sinks and ranges row 2"),
    "a panel in no room": ("Panels", 2, "room", "shed", "Panels row 2, room"),
    "spaces in words": ("Panels", 2, "spaces", "twelve", "Panels row 2, spaces"),
    "a circuit of no panel": ("Circuits", 2, "panel", "P9", "Circuits row 2, panel"),
    "a breaker of nothing": ("Circuits", 2, "breaker (A)", 0, "more than 0"),
    "a breaker in volts": ("Circuits", 2, "breaker (A)", "15 V", "a number in A"),
    "four poles": ("Circuits", 2, "poles", 4, "at most 3"),
    "a slot of letters": ("Circuits", 2, "slots", "one; two", "must be a number"),
    "a slot of nothing": ("Circuits", 2, "slots", "0", "Circuits row 2, slots"),
    "a circuit twice": ("Circuits", 3, "id", "1", "is taken by"),
    "a box in no room": ("Boxes", 2, "room", "shed", "Boxes row 2, room"),
    "a box on no wall": ("Boxes", 2, "place wall", "q", "Boxes row 2, place wall"),
    "a box on no surface": ("Boxes", 2, "place surface", "roof", "must be one of wall, ceiling"),
    "a box with no surface": ("Boxes", 2, "place surface", None, "surface is missing"),
    "a height in a ceiling": ("Boxes", 3, "place height (mm)", 300, "not a known key"),
    "a box past its wall": ("Boxes", 2, "place at (mm)", 3001, "Boxes row 2, place at"),
    "no gangs": ("Boxes", 2, "gangs", 0, "at least 1"),
    "a volume in litres": ("Boxes", 2, "volume (mL)", "1 gal", "a number in mL"),
    "a device of no box": ("Devices", 2, "box", "R9", "there is no box 'R9'"),
    "a device of no kind": ("Devices", 2, "kind", "toaster", "must be one of receptacle"),
    "a device on no circuit": ("Devices", 2, "circuit", "9", "Devices row 2, circuit"),
    "five ways": ("Devices", 2, "ways", 5, "must be one of 2, 3, 4"),
    "a size that is none": ("Cables", 2, "awg", "13", "must be a size such as"),
    "a metric size that is none": ("Cables", 2, "awg", "2.5 mm²", "the nearest is 1"),
    "a cable to no box": ("Cables", 2, "ends", "P1; R9", "Cables row 2, ends (C2)"),
    "a cable with one end": ("Cables", 2, "ends", "P1", "Cables row 2, ends"),
    "a cable with three ends": ("Cables", 2, "ends", "P1; R1; T1", "Cables row 2, ends"),
    "a cable of no kind": ("Cables", 2, "kind", "rope", "must be one of nm"),
    "recorded perhaps": ("Rooms", 2, "fixtures recorded", "soon", "must be yes or no"),
}  # fmt: skip


def _sheets(change: Callable[[Any], Any]) -> bytes:
    return edited(lambda book: change(book) and None)


def _rename(book: Any, sheet: str, title: str) -> None:
    book[sheet].title = title


def _pairs(raw: bytes) -> list[tuple[str, bytes]]:
    with zipfile.ZipFile(BytesIO(raw)) as packed:
        return [(name, packed.read(name)) for name in packed.namelist()]


def _packed(pairs: list[tuple[str, bytes]]) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, value in pairs:
            packed.writestr(name, value)
    return out.getvalue()


def _rows(count: int) -> bytes:
    name = page_xml(BOOK, "Walls")
    return substituted(BOOK, name, b"</sheetData>", b"<row/>" * count + b"</sheetData>")


def _locked() -> bytes:
    """The zip with the flag that says its entries are encrypted."""
    raw = bytearray(BOOK)
    at = raw.find(b"PK\x01\x02")
    while at >= 0:
        raw[at + 8] |= 1
        at = raw.find(b"PK\x01\x02", at + 4)
    return bytes(raw)


HOUSES = page_xml(BOOK, "House")
LOST = b'<row r="9"><c r="A9" t="s"><v>99999</v></c></row></sheetData>'
ENTITY = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>'
OUTSIDE = b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'

FILES: dict[str, tuple[Callable[[], bytes], str]] = {
    "merged cells": (
        lambda: edited(lambda book: book["Walls"].merge_cells("C3:C4")), "C3:C4 are merged"),
    "merged headers": (
        lambda: edited(lambda book: book["Rooms"].merge_cells("A1:B1")), "A1:B1 are merged"),
    "a renamed sheet": (
        lambda: edited(lambda book: _rename(book, "Walls", "Muren")), "Muren: is not a sheet"),
    "the first sheet renamed": (
        lambda: edited(lambda book: _rename(book, "House", "Home")), "House: the sheet is missing"),
    "the rooms deleted": (lambda: edited(lambda book: book.remove(book["Rooms"])), "no room 'den'"),
    "the areas deleted": (lambda: edited(lambda book: book.remove(book["Areas"])), "Rooms row 2"),
    "the house deleted": (lambda: edited(lambda book: book.remove(book["House"])), "is missing"),
    "a sheet too many": (lambda: edited(lambda book: book.create_sheet("More")), "More: is no"),
    "an unknown header": (lambda: typed("Walls", 1, WALL, "breadth"), "is not a known header"),
    "a header twice": (lambda: typed("Walls", 1, "kind", "id"), "is there twice"),
    "a header in another script": (lambda: typed("Walls", 1, WALL, "длина"), "not a known header"),
    "a formula for a header": (lambda: typed("Walls", 1, WALL, "=A1"), "without a result"),
    "headers deleted": (lambda: edited(lambda book: book["Rooms"].delete_rows(1)), "a known head"),
    "a row above the headers": (
        lambda: edited(lambda book: (book["Areas"].insert_rows(1),
                                     book["Areas"].cell(1, 1, "Our areas"))), "not a known header"),
    "a value beside the columns": (
        lambda: edited(lambda book: book["Walls"].cell(2, 30, 5)), "under no known header"),
    "a value far to the right": (
        lambda: edited(lambda book: book["Walls"].cell(2, 16_000, 5)), "column 16000"),
    "two houses": (
        lambda: edited(lambda book: book["House"].cell(3, 2, "Two")),
        "House row 3: a house has one row here",
    ),
    "a quarter of a million empty rows": (lambda: _rows(250_000), "more than 200,000 rows"),
    "macros": (lambda: repacked(BOOK, **{"xl/vbaProject.bin": b"x"}), "macros"),
    "macro sheets": (lambda: repacked(BOOK, **{"xl/macrosheets/a.xml": b"x"}), "macro"),
    "external links": (lambda: repacked(BOOK, **{"xl/externalLinks/e1.xml": b"<x/>"}), "linked"),
    "a data connection": (lambda: repacked(BOOK, **{"xl/connections.xml": b"<x/>"}), "connected"),
    "a file embedded": (lambda: repacked(BOOK, **{"xl/embeddings/a.bin": b"x"}), "embedded"),
    "controls": (lambda: repacked(BOOK, **{"xl/activeX/a.bin": b"x"}), "ActiveX"),
    "a bomb": (lambda: repacked(BOOK, **{HOUSES: bytes(70_000_000)}), "unpacks to more than"),
    "a bomb of small files": (
        lambda: repacked(BOOK, **{f"a{n}": b"" for n in range(400)}), "more than 300 files"),
    "a bomb of CSV": (
        lambda: repacked(CSVS, **{"Rooms.csv": b"," * 61_000_000}), "unpacks to more than"),
    "entities": (lambda: repacked(BOOK, **{HOUSES: ENTITY + b"<x>&b;</x>"}), "not a sound"),
    "an outside entity": (lambda: repacked(BOOK, **{HOUSES: OUTSIDE + b"<x>&a;</x>"}), "not a so"),
    "a sheet nested deep": (
        lambda: repacked(BOOK, **{HOUSES: b"<x>" + b"<a>" * 300_000}), "nested more than 40 deep"),
    "styles nested deep": (
        lambda: repacked(BOOK, **{"xl/styles.xml": b"<a>" * 300_000}), "nested more than 40 deep"),
    "texts nested deep": (
        lambda: repacked(BOOK, **{"xl/sharedStrings.xml": b"<a>" * 99_000}), "nested more than 40"),
    "a sheet of elements": (
        lambda: repacked(BOOK, **{HOUSES: b"<x>" + b"<c/>" * 400_001}), "more than 400,000 elemen"),
    "a sheet of rubbish": (lambda: repacked(BOOK, **{HOUSES: b"rubbish"}), "not a sound workbook"),
    "a sheet cut off": (
        lambda: repacked(BOOK, **{HOUSES: dict(_pairs(BOOK))[HOUSES][:300]}), "not a sound"),
    "a sheet gone": (lambda: repacked(BOOK, **{HOUSES: None}), "is missing within it"),
    "no list of sheets": (lambda: repacked(BOOK, **{"xl/workbook.xml": None}), "is missing within"),
    "no relations": (lambda: repacked(BOOK, **{"xl/_rels/workbook.xml.rels": None}), "missing"),
    "no text": (
        lambda: substituted(BOOK, page_xml(BOOK, "Areas"), b"</sheetData>", LOST), "missing from"),
    "styles of rubbish": (lambda: repacked(BOOK, **{"xl/styles.xml": b"<"}), "not a sound"),
    "cut in half": (lambda: BOOK[: len(BOOK) // 2], "cut off or damaged"),
    "cut at the end": (lambda: BOOK[:-10], "cut off or damaged"),
    "only two letters": (lambda: b"PK", "cut off or damaged"),
    "its middle overwritten": (
        lambda: BOOK[:3000] + b"\x00" * 3000 + BOOK[6000:], "damaged"),
    "a password": (_locked, "password"),
    "an old workbook": (lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "an old .xls"),
    "more than 5 MB": (lambda: b"PK" + bytes(5_000_001), "larger than 5 MB"),
    "an empty zip": (lambda: _packed([]), "no workbook and no CSV"),
    "a zip of other things": (lambda: _packed([("a.txt", b"x")]), "no workbook and no CSV"),
    "CSV not in UTF-8": (
        lambda: repacked(CSVS, **{"Rooms.csv": "id\nà côté".encode("latin-1")}), "not UTF-8"),
    "CSV of an unknown sheet": (
        lambda: repacked(CSVS, **{"Kamers.csv": b"id\n1"}), "is not a sheet"),
    "CSV with a quote left open": (
        lambda: repacked(CSVS, **{"Areas.csv": b'id,name\nall,"' + b"x" * 140_000}), "not sound"),
    "CSV with more cells than headers": (
        lambda: repacked(CSVS, **{"Areas.csv": b"id,name\nall,All of it,3"}), "no known header"),
    "CSV of rooms without areas": (lambda: repacked(CSVS, **{"Areas.csv": b"id,name"}), "Rooms"),
    "CSV twice in two folders": (lambda: repacked(CSVS, **{"a/Areas.csv": b"id"}), "there twice"),
    "CSV of a million rows": (
        lambda: repacked(CSVS, **{"Areas.csv": b"id,name\n" + b"a,b\n" * 1_000_000}), "more rows"),
}  # fmt: skip

MALFORMED: dict[str, tuple[Callable[[], bytes], str]] = {
    **{
        name: (partial(typed, sheet, row, header, value), told)
        for name, (sheet, row, header, value, told) in CELLS.items()
    },
    **FILES,
}
