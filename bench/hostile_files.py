"""Files and bodies that nobody should send, drawn by chance from a seed, each sort in turn."""

import io
import json
import random
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any
from uuid import UUID

from ezdxf.filemanagement import new as new_drawing
from PIL import Image

from inspections.checker.load import load_house
from inspections.checker.workbook import csv_zip, xlsx

MB = 1_000_000
Chance = random.Random


@dataclass
class Upload:
    """One upload."""

    kind: str
    what: str
    path: str
    body: bytes
    content_type: str
    headers: dict[str, str] = field(default_factory=dict)


Made = tuple[str, bytes]
"""What is hostile in it, and its bytes."""


def spoilt(chance: Chance, good: bytes) -> Made:
    """A good file with some of its bytes changed, cut off, doubled or put elsewhere."""
    how = chance.choice(("bytes", "cut", "doubled", "moved", "noise"))
    data = bytearray(good)
    if how == "bytes":
        for _ in range(chance.randint(1, 40)):
            data[chance.randrange(len(data))] = chance.randrange(256)
    elif how == "cut":
        del data[chance.randrange(len(data)) :]
    elif how == "doubled":
        data = data * 2
    elif how == "moved":
        a, b = sorted((chance.randrange(len(data)), chance.randrange(len(data))))
        data = data[b:] + data[a:b] + data[:a]
    else:
        data = bytearray(chance.randbytes(chance.randint(0, 100_000)))
    return how, bytes(data)


def _json(chance: Chance, house: dict[str, Any]) -> Made:
    good = json.dumps(house)
    makers: dict[str, Callable[[], str | bytes]] = {
        "many faulty boxes": lambda: json.dumps(
            house | {"boxes": [[]] * chance.randint(9, 70_000)}
        ),
        "as many as there may be": lambda: '{"boxes": [' + "{}," * 49_000 + "{}]}",
        "many keys": lambda: "{" + ",".join(f'"k{n}":0' for n in range(90_000)) + "}",
        "too many": lambda: "[" + "[]," * 1_600_000 + "[]]",
        "small objects": lambda: "[" + '{"":0},' * 600_000 + "0]",
        "deep": lambda: "[" * chance.choice((39, 41, 100_000, 2_000_000)),
        "a long number": lambda: "[" + "9" * chance.choice((5000, 4_000_000)) + "]",
        "infinite": lambda: good.replace(": 1", ": 1e999", 5).replace(": 2", ": NaN", 5),
        "a long text": lambda: json.dumps(house | {"name": "é" * 2_000_000}),
        "astral text": lambda: json.dumps(house | {"name": "𝄞" * 1_000_000}, ensure_ascii=False),
        "half letters": lambda: good.replace('"name": "', '"name": "\\ud800', 9),
        "nul": lambda: good.replace('"name": "', '"name": "\\u0000', 9),
        "twice the same key": lambda: "{" + '"name": "a",' * 30_000 + good[1:],
        "blanks": lambda: " " * chance.choice((4, 6, 24)) * MB,
        "no utf-8": lambda: good.encode("utf-16"),
    }
    what = chance.choice((*makers, "spoilt", "spoilt", "spoilt"))
    if what == "spoilt":
        return spoilt(chance, good.encode())
    made = makers[what]()
    return what, made.encode() if isinstance(made, str) else made


def _zipped(parts: dict[str, bytes], packing: int = zipfile.ZIP_DEFLATED) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", packing) as packed:
        for name, content in parts.items():
            packed.writestr(name, content)
    return out.getvalue()


def _parts(raw: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(raw)) as packed:
        by_name: dict[str, bytes] = {}
        for name in packed.namelist():
            by_name[name] = packed.read(name)
        return by_name


def _workbook(chance: Chance, good: bytes) -> Made:
    parts = _parts(good)
    sheets = []
    for name in parts:
        if "sheet" in name or name.endswith(".csv"):
            sheets.append(name)
    one = chance.choice(sheets)
    size = chance.choice((5 * MB, 60 * MB))
    head = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    entity = b'<!DOCTYPE a [<!ENTITY b "cccccccccc"><!ENTITY d "&b;&b;&b;&b;&b;">]>'
    makers: dict[str, Callable[[], bytes]] = {
        "many cells in a row": lambda: head + b"<sheetData><row>" + b"<c/>" * (size // 4),
        "many parts outside": lambda: head + b"<a/>" * (size // 4) + b"</worksheet>",
        "many attributes": lambda: head + b"<c " + b'a1="" ' * 200_000 + b"/>",
        "entities": lambda: entity + head + b"&d;" * 1000 + b"</worksheet>",
        "deep": lambda: head + b"<a>" * (size // 6),
        "zeros": partial(bytes, size),
        "commas": lambda: b"," * size,
        "rows": lambda: b"a,b\n" * (size // 4),
        "one long cell": lambda: b"a" * size,
    }
    what = chance.choice((*makers, "bytes of the zip", "bytes of a part", "many files", "shared"))
    if what == "bytes of the zip":
        return spoilt(chance, good)
    if what == "many files":
        empty = {}
        for n in range(5000):
            empty[f"xl/more{n}.xml"] = b""
        return what, _zipped(parts | empty)
    if what == "shared":
        texts = b"<sst>" + b"<x><t/></x>" * (size // 11) + b"</sst>"
        return what, _zipped(parts | {"xl/sharedStrings.xml": texts, "xl/styles.xml": texts})
    if what == "bytes of a part":
        content = spoilt(chance, parts[one])[1]
    else:
        content = makers[what]()
    return what, _zipped(parts | {one: content})


@cache
def _ifc() -> bytes:
    from tests.building.models import two_storeys

    written: str = two_storeys().file.to_string()
    return written.encode()


@cache
def _dxf() -> bytes:
    drawing = new_drawing()
    space = drawing.modelspace()
    for n in range(30):
        corners = ((0, 0), (n * 100 + 900, 0), (n * 100 + 900, 3000), (0, 3000))
        space.add_lwpolyline(corners, close=True)
        space.add_text("Kitchen").set_placement((100, 100))
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def _model(chance: Chance, form: str) -> Made:
    if form == "ifc":
        head = b"ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
        end = b"ENDSEC;\nEND-ISO-10303-21;\n"
        lines = bytearray()
        for n in range(1, 60_000):
            lines += b"#%d=IFCSPACE($,$,$,$,$,$,$,$,$,$,$);\n" % n
        loops = bytearray()
        for n in range(900):
            loops += b"#%d=IFCRELAGGREGATES($,$,$,$,#%d,(#%d));\n" % (n, n, n)
        huge = {"many": head + lines + end, "loops": head + loops + end}
        huge["long"] = head + b"#1=IFCWALL('" + b"a" * 9 * MB + b"');\n" + end
        good = _ifc()
    else:
        pair = b"0\nLINE\n8\n0\n10\n0.0\n20\n0.0\n11\n1e308\n21\n-1e308\n"
        huge = {"many": b"0\nSECTION\n2\nENTITIES\n" + pair * 60_000 + b"0\nENDSEC\n0\nEOF\n"}
        huge["long"] = b"0\nSECTION\n2\n" + b"A" * 9 * MB
        good = _dxf()
    what = chance.choice((*huge, "spoilt", "spoilt", "spoilt"))
    if what in huge:
        return (what, huge[what])
    return spoilt(chance, good)


@cache
def _picture(form: str, side: int, mode: str) -> bytes:
    out = io.BytesIO()
    Image.new(mode, (side, side), 7).save(out, form)
    return out.getvalue()


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _png(width: int, height: int, *more: bytes) -> bytes:
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0))
    data = _chunk(b"IDAT", zlib.compress(bytes(10 * MB)))
    return b"\x89PNG\r\n\x1a\n" + head + b"".join(more) + data + _chunk(b"IEND", b"")


def _photograph(chance: Chance) -> Made:
    text = _chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(60 * MB)))
    form = chance.choice(("JPEG", "PNG", "WEBP"))
    makers: dict[str, Callable[[], bytes]] = {
        "88 megapixels": partial(_picture, "PNG", 9400, "1"),
        "49 megapixels": partial(_picture, "JPEG", 7000, "RGB"),
        "39 megapixels with alpha": partial(_picture, "PNG", 6200, "RGBA"),
        "vast by its head": partial(_png, 2**31 - 1, 2**31 - 1),
        "less than its head": partial(_png, 6000, 6000),
        "texts that unpack": partial(_png, 10, 10, text, text, text),
        "heic": lambda: b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + chance.randbytes(50_000),
        "gif": partial(_picture, "GIF", 900, "P"),
        "tiff": partial(_picture, "TIFF", 900, "RGB"),
        "svg": lambda: b"<svg xmlns='http://www.w3.org/2000/svg'>" + b"<g>" * 100_000,
        "noise": lambda: b"\xff\xd8\xff\xe0" + chance.randbytes(chance.choice((9, 900_000))),
        "none": bytes,
    }
    small = ("heic", "gif", "tiff", "svg", "noise", "none", "vast by its head")
    what = chance.choice((*makers, *small, *("spoilt",) * 12))
    if what == "spoilt":
        return spoilt(chance, _picture(form, chance.choice((60, 600)), "RGB"))
    return what, makers[what]()


def _body(chance: Chance, house: dict[str, Any]) -> Made:
    tick = {"id": str(UUID(int=chance.getrandbits(128))), "outcome": "ok"}
    makers: dict[str, Callable[[], Any]] = {
        "many ticks": lambda: {"ticks": [tick] * 40_000, "phone_now": "2026-03-01T12:00:00Z"},
        "strange ticks": lambda: {"ticks": [[], None, {"id": {}}, 1e308], "phone_now": []},
        "a house that is a list": lambda: {"house": [[]] * 60_000, "why": "x" * MB},
        "a house within a house": lambda: {"house": house | {"rooms": house}, "base": -1},
        "long keys": lambda: {"x" * 4 * MB: 1},
    }
    what = chance.choice((*makers, "json"))
    if what == "json":
        return _json(chance, house)
    return what, json.dumps(makers[what]()).encode()


def multipart(chance: Chance, name: str, filename: str, content: bytes, **fields: str) -> Upload:
    """A form with one file; now and then its parts are as nobody makes them."""
    mark = "x" * 30
    how = chance.choice(("good",) * 12 + ("fields", "files", "no end", "names", "no mark", "head"))
    names: tuple[str, ...] = (filename,)
    if how == "fields":
        for n in range(5000):
            fields[f"f{n}"] = "1"
    if how == "files":
        names = (filename,) * 50
        content = content[:1000]
    if how == "names":
        names = (chance.choice(("../../etc/x", "a" * 9000, "a\0b.ifc", "con", "é\u202e.json")),)
    out = []
    for n, v in fields.items():
        out.append(f'--{mark}\r\nContent-Disposition: form-data; name="{n}"\r\n\r\n{v}\r\n')
    body = "".join(out).encode()
    for each in names:
        more = ""
        if how == "head":
            more = "X-Long: " + "a" * 70_000 + "\r\n"
        head = f'--{mark}\r\nContent-Disposition: form-data; name="{name}"; '
        head += f'filename="{each}"\r\n{more}'
        body += (
            (head + "Content-Type: application/octet-stream\r\n\r\n").encode() + content + b"\r\n"
        )
    if how != "no end":
        body += f"--{mark}--\r\n".encode()
    kind = "multipart/form-data" + ("" if how == "no mark" else f"; boundary={mark}")
    return Upload("", how, "", body, kind)


def uploads(chance: Chance, ground: dict[str, Any], count: int) -> Iterator[Upload]:
    """So many uploads of every kind in turn; models, which take a process each, more rarely."""
    house = ground["house"]
    value = load_house(json.dumps(house).encode())
    books = {"xlsx": xlsx(value), "zip": csv_zip(value)}
    job, item = ground["job"], ground["item"]
    turns = ("json", "xlsx", "photograph", "api", "zip", "json text", "photograph", "api", "walk")
    for number in range(count):
        kind = turns[number % len(turns)]
        if number % 20 == 19:
            kind = ("ifc", "dxf")[number // 20 % 2]
        what, path, sent = "", "", None
        if kind == "json":
            what, data = _json(chance, house)
            path, sent = f"/jobs/{job}/house-file/", multipart(chance, "house", "h.json", data)
        elif kind in books:
            what, data = _workbook(chance, books[kind])
            path, sent = f"/jobs/{job}/house-file/", multipart(chance, "house", f"h.{kind}", data)
        elif kind == "json text":
            what, data = _json(chance, house)
            sent = Upload("", "", "", b"text=" + data, "application/x-www-form-urlencoded")
            path = f"/jobs/{job}/house-file/"
        elif kind in ("ifc", "dxf"):
            what, data = _model(chance, kind)
            path, sent = f"/jobs/{job}/draw/model/", multipart(chance, "model", f"m.{kind}", data)
        elif kind == "photograph":
            what, data = _photograph(chance)
            sent = multipart(chance, "photograph", "p.jpg", data)
            path = f"/items/{item}/photograph/"
            if chance.random() < 0.5:
                sent = multipart(chance, "file", "p.jpg", data)
                path = f"/api/items/{item}/photographs"
        elif kind == "walk":
            what, data = _photograph(chance)
            given = {"id": str(UUID(int=chance.getrandbits(128))), "item": item}
            path, sent = (
                f"/walk/{job}/photograph",
                multipart(chance, "file", "p.jpg", data, **given),
            )
        else:
            what, data = _body(chance, house)
            last = chance.choice(("revisions", "trial", "proposals", "observations"))
            path, sent = f"/api/jobs/{job}/{last}", Upload("", "", "", data, "application/json")
        sent.kind, sent.path = kind, path
        sent.what = f"{what}, {sent.what}".strip(", ")
        yield sent
