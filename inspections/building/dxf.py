"""A DXF drawing as a house: closed polylines as rooms, text in them as names, the rest beneath.

Runs in a process of its own (`child.py`); nothing here is imported by the site itself.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ezdxf import path as paths
from ezdxf import recover, units
from ezdxf.enums import InsertUnits

from config.messages.stored import to_json
from inspections.checker.geometry.plan import Point, point_within

from . import model_messages as says
from .floor import Data, area, cleaned, mark_outside, room_of
from .uses import use_of

LEAST_MM2 = 0.2e6
MOST_LINES = 20_000
SAG_MM = 20.0  # an arc is drawn by chords no farther from it
OUTLINES = ("LWPOLYLINE", "POLYLINE")
WORDS = ("TEXT", "MTEXT")


def read_dxf(path: str, name: str) -> Data:
    """The house of a DXF file, what could not be read by entity, and lines to lay beneath."""
    drawing, audit = recover.readfile(path)
    unread: list[Any] = []
    for error in audit.errors[:100]:
        unread.append(str(error.message))
    scale = _scale(drawing, unread)
    space = drawing.modelspace()
    words = []
    for e in space:
        if e.dxftype() in WORDS:
            words.append((_text(e), _at(e, scale)))
    rooms: list[Data] = []
    for entity in space:
        if entity.dxftype() in OUTLINES:
            _room(entity, scale, words, rooms, unread)
    mark_outside(rooms)
    lines = list(_lines(space, scale, unread))[:MOST_LINES]
    house = {
        **{"format": "studbay-house-1", "name": name[:120]},
        **{"storeys": [{"id": "main", "name": "Main floor"}]},
        **{"areas": [{"id": "main", "name": "Main floor"}], "rooms": rooms},
    }
    return {"house": house, "unread": unread, "areas": [], "lines": lines}


def _scale(drawing: Any, unread: list[Any]) -> float:
    """Millimetres for a unit of the drawing."""
    said = drawing.header.get("$INSUNITS", 0)
    if not said:
        unread.append(to_json(says.NO_UNIT()))
        return 1.0
    factor: float = units.conversion_factor(InsertUnits(said), InsertUnits.Millimeters)
    return factor


def _text(entity: Any) -> str:
    return str(entity.plain_text() if entity.dxftype() == "MTEXT" else entity.dxf.text).strip()


def _at(entity: Any, scale: float) -> Point:
    place = entity.dxf.insert
    return place.x * scale, place.y * scale


def _room(
    entity: Any, scale: float, words: list[tuple[str, Point]], rooms: list[Data], unread: list[Any]
) -> None:
    said = f"{entity.dxftype()} {entity.dxf.handle}"
    if not _is_closed(entity):
        return
    ring = _ring(entity, scale)
    if len(ring) < 3 or abs(area(ring)) < LEAST_MM2:
        unread.append(to_json(says.ELEMENT(element=said, why=says.TOO_SMALL())))
        return
    said_in = _words_in(words, ring)
    name = _telling(said_in)
    kind = use_of(*said_in)
    if kind is None:
        why = says.NO_USE()
        if name:
            why = says.NO_USE_OF(words=name)
        unread.append(to_json(says.ELEMENT(element=said, why=why)))
    number = len(rooms) + 1
    rooms.append(
        room_of(f"r{number}", name or f"Room {number}", kind or "den", "main", "main", ring)
    )


def _is_closed(line: Any) -> bool:
    if line.dxftype() == "LWPOLYLINE":
        return bool(line.closed)
    return bool(line.is_closed)


def _ring(entity: Any, scale: float) -> list[Point]:
    """The corners of a closed line, in mm."""
    points = []
    for point in paths.make_path(entity).flattening(SAG_MM / scale):
        points.append((point.x * scale, point.y * scale))
    return cleaned(points)


def _words_in(words: list[tuple[str, Point]], ring: list[Point]) -> list[str]:
    """What is written within an outline."""
    said_in: list[str] = []
    for text, at in words:
        if text and point_within(at, ring):
            said_in.append(text)
    return said_in


def _telling(texts: list[str]) -> str:
    """The first that tells a use, else the first."""
    for text in texts:
        if use_of(text):
            return text
    if texts:
        return texts[0]
    return ""


def _lines(space: Any, scale: float, unread: list[Any]) -> Iterator[list[float]]:
    skipped: dict[str, int] = {}
    for entity in space:
        if entity.dxftype() in WORDS:
            continue
        try:
            points = list(paths.make_path(entity).flattening(SAG_MM / scale))
        except (TypeError, ValueError):  # an entity that is no line: a hatch, a block, a dimension
            skipped[entity.dxftype()] = skipped.get(entity.dxftype(), 0) + 1
            continue
        for a, b in pairwise(points):
            yield [round(value * scale, 1) for value in (a.x, a.y, b.x, b.y)]
    for kind, count in sorted(skipped.items()):
        unread.append(to_json(says.NOT_DRAWN(kind=kind, n=count)))
