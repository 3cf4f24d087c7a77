"""Malformed house files, and the line that must name the fault of each."""

import json
import math
from typing import Any

from .small import HOUSE, spoiled

ROOM, WALL = ("rooms", 0), ("rooms", 0, "walls", 0)
BOX, CABLE = ("boxes", 0), ("cables", 0)


def _json(value: Any) -> bytes:
    return json.dumps(value).encode()


def _bad(*path: str | int, **value: Any) -> bytes:
    return _json(spoiled(*path, **value))


def _twice(kind: str) -> bytes:
    return _json(HOUSE | {kind: [*HOUSE[kind], HOUSE[kind][0]]})


TEXT = _json(HOUSE)

BYTES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "the file is empty"),
    "blank": (b" \n\t", "the file is empty"),
    "cut off": (TEXT[:-40], "not JSON at line 1"),
    "a comma too many": (b'{"format": "studbay-house-1",}', "not JSON at line 1, column 30"),
    "something after the end": (TEXT + b"}", "not JSON at line 1"),
    "single quotes": (b"{'format': 1}", "not JSON at line 1, column 2"),
    "not UTF-8": (b'{"name": "\xff\xfe"}', "not UTF-8 at byte 10"),
    "UTF-16": (TEXT.decode().encode("utf-16"), "not UTF-8 at byte 0"),
    "4 MB of brackets": (b"[" * 4_000_000, "nested deeper than 40 at line 1"),
    "4 MB of objects": (b'{"a":' * 800_000, "nested deeper than 40 at line 1"),
    "6 MB of blanks": (b" " * 6_000_000, "the file is larger than 5 MB"),
    "many values": (b"[" + b"0," * 90_000 + b"0]", "the file holds more than 80,000 values"),
    "a key twice": (b'{"name": "a", "name": "b"}', "the key 'name' is there twice"),
    "a list": (b"[]", "must be an object, not a list"),
    "a number": (b"7", "must be an object, not 7"),
    "null": (b"null", "must be an object, not null"),
    "a NUL in a name": (_bad(*ROOM, "name", value="a\0b"), "rooms[0].name: holds U+0000"),
    "half a letter": (_bad(*ROOM, "name", value="a\ud800"), "rooms[0].name: holds U+D800"),
    "a NUL in a key": (_json({"na\0me": 1}), "has a key that is not text: 'na\\x00me'"),
    "a number of 5,000 digits": (b'{"name": ' + b"9" * 5000 + b"}", "not usable JSON"),
}

SHAPES: dict[str, tuple[bytes, str]] = {
    "no format": (_bad("format"), "format: is missing"),
    "another format": (_bad("format", value="house-9"), "format: must be one of 'studbay-house-1'"),
    "an unknown key": (_bad("romms", value=[]), "romms: is not a known key; did you mean rooms?"),
    "rooms as an object": (_bad("rooms", value={}), "rooms: must be a list, not an object"),
    "a room as text": (_bad(*ROOM, value="den"), "rooms[0]: must be an object"),
    "a kind nobody knows": (
        _bad(*ROOM, "kind", value="lair"),
        "rooms[0].kind: must be one of 'living', 'family'",
    ),
    "a negative length": (
        _bad(*WALL, "length_mm", value=-4000),
        "rooms[0].walls[0].length_mm: must be more than 0",
    ),
    "a length of nothing": (
        _bad(*WALL, "length_mm", value=0),
        "rooms[0].walls[0].length_mm: must be more than 0",
    ),
    "a length as text": (
        _bad(*WALL, "length_mm", value="4000"),
        "rooms[0].walls[0].length_mm: must be a number, not text '4000'",
    ),
    "a length of true": (
        _bad(*WALL, "length_mm", value=True),
        "rooms[0].walls[0].length_mm: must be a number, not true",
    ),
    "a length of null": (
        _bad(*WALL, "length_mm", value=None),
        "rooms[0].walls[0].length_mm: must be a number, not null",
    ),
    "NaN": (
        _bad(*WALL, "length_mm", value=math.nan),
        "rooms[0].walls[0].length_mm: must be a finite number",
    ),
    "Infinity": (
        _bad(*BOX, "volume_ml", value=math.inf),
        "boxes[0].volume_ml: must be a finite number",
    ),
    "a wall of a thousand kilometres": (
        _bad(*WALL, "length_mm", value=1e9),
        "rooms[0].walls[0].length_mm: must be at most 1,000,000",
    ),
    "half a gang": (
        _bad(*BOX, "gangs", value=1.5),
        "boxes[0].gangs: must be a whole number, not 1.5",
    ),
    "no gangs": (_bad(*BOX, "gangs", value=0), "boxes[0].gangs: must be at least 1"),
    "no surface": (_bad(*BOX, "place", "surface"), "boxes[0].place: surface is missing"),
    "a surface nobody knows": (
        _bad(*BOX, "place", "surface", value="sky"),
        "boxes[0].place: surface must be one of wall, ceiling",
    ),
    "a size nobody makes": (_bad(*CABLE, "awg", value="13"), "cables[0].awg: must be one of"),
    "one end": (_bad(*CABLE, "ends", value=["P1"]), "cables[0].ends[1]: is missing"),
    "three ends": (
        _bad(*CABLE, "ends", value=["P1", "R1", "T1"]),
        "cables[0].ends: must have at most 2 entries",
    ),
    "an empty name": (_bad(*ROOM, "name", value=""), "rooms[0].name: must not be empty"),
    "an id with a blank": (
        _bad(*BOX, "id", value="box one"),
        "boxes[0].id: must be a short name of letters",
    ),
    "an id that is a list": (_bad(*BOX, "id", value=["R1"]), "boxes[0].id: must be text"),
    "a name of 200 letters": (
        _bad("name", value="x" * 200),
        "name: must be at most 120 characters",
    ),
    "an empty hole": (
        _bad("holes", 0, "cables", value=[]),
        "holes[0].cables: must have at least 1 entry",
    ),
}

TUB = {"id": "T", "kind": "tub", "wall": "n", "at_mm": 0, "width_mm": 1500}

REFERENCES: dict[str, tuple[bytes, str]] = {
    "a cable to no box": (
        _bad(*CABLE, "ends", 1, value="R99"),
        "cables[0].ends[1]: there is no box, panel or appliance 'R99'",
    ),
    "a cable through no box": (
        _bad(*CABLE, "through", value=[{"box": "R98"}]),
        "cables[0].through[0].box: there is no box 'R98'",
    ),
    "a cable to itself": (_bad(*CABLE, "ends", value=["R1", "R1"]), "cables[0].ends: both ends"),
    "a power cable without a size": (_bad(*CABLE, "awg"), "cables[0].awg: is missing"),
    "a box in no room": (
        _bad(*BOX, "room", value="attic"),
        "boxes[0].room: there is no room 'attic'",
    ),
    "a box on no wall": (
        _bad(*BOX, "place", "wall", value="x"),
        "boxes[0].place.wall: room 'den' has no wall 'x'",
    ),
    "a box past its wall": (
        _bad(*BOX, "place", "at_mm", value=3001),
        "boxes[0].place.at_mm: 3,001 mm is past the wall's 3,000 mm",
    ),
    "a device on no circuit": (
        _bad(*BOX, "devices", 0, "circuit", value="9"),
        "boxes[0].devices[0].circuit: there is no circuit '9'",
    ),
    "a room in no area": (_bad(*ROOM, "area", value="wing"), "rooms[0].area: there is no area"),
    "a room on no storey": (
        _bad(*ROOM, "storey", value="roof"),
        "rooms[0].storey: there is no storey",
    ),
    "two boxes of one id": (_twice("boxes"), "boxes[2].id: 'R1' is taken by boxes[0]"),
    "two cables of one id": (_twice("cables"), "cables[2].id: 'C1' is taken by cables[0]"),
    "two rooms of one id": (_twice("rooms"), "rooms[1].id: 'den' is taken by rooms[0]"),
    "a box named as the panel": (
        _bad(*BOX, "id", value="P1"),
        "panels[0].id: 'P1' is taken by boxes[0]",
    ),
    "two walls of one id": (
        _bad("rooms", 0, "walls", 1, "id", value="n"),
        "rooms[0].walls[1].id: 'n' is there twice in this room",
    ),
    "a hole for no cable": (
        _bad("holes", 0, "cables", value=["C9"]),
        "holes[0].cables[0]: there is no cable 'C9'",
    ),
    "a distance to itself": (
        _bad("separations", 0, "cables", value=["C1", "C1"]),
        "separations[0].cables: both are the same cable",
    ),
    "a circuit in no panel": (
        _bad("circuits", 0, "panel", value="P9"),
        "circuits[0].panel: there is no panel 'P9'",
    ),
    "a space taken twice": (
        _bad("circuits", 1, "slots", value=[1]),
        "circuits[1].slots[0]: space 1 is taken by circuits[0]",
    ),
    "a space the panel lacks": (
        _bad("circuits", 0, "slots", value=[13]),
        "circuits[0].slots[0]: panel 'P1' has 12 spaces",
    ),
    "a door past its wall": (
        _bad(*WALL, "openings", 0, "width_mm", value=3600),
        "rooms[0].walls[0].openings[0]: ends at 4,100 mm, past the wall's 4,000 mm",
    ),
    "two openings in one place": (
        _bad(*WALL, "openings", 1, "at_mm", value=1200),
        "rooms[0].walls[0].openings[1]: overlaps openings[0]",
    ),
    "walls that do not close": (
        _bad(*WALL, "length_mm", value=4400),
        "rooms[0].walls: end 400 mm from where they start",
    ),
    "walls the wrong way round": (
        _json(
            HOUSE
            | {
                "rooms": [
                    HOUSE["rooms"][0]
                    | {"walls": [w | {"turn_deg": -90} for w in HOUSE["rooms"][0]["walls"]]}
                ]
            }
        ),
        "rooms[0].walls: turn -360 degrees in all, not 360",
    ),
    "a counter along no wall": (_bad("counters", 0, "along"), "counters[0].along: is missing"),
    "a counter past its wall": (
        _bad("counters", 0, "along", 0, "width_mm", value=4200),
        "counters[0].along[0]: ends at 4,200 mm, past the wall's 4,000 mm",
    ),
    "a sink past its counter": (
        _bad("counters", 0, "interruptions", 0, "at_mm", value=1900),
        "counters[0].interruptions[0]: ends at 2,500 mm, past the counter's 2,000 mm",
    ),
    "a fixture on no wall": (
        _bad(*ROOM, "fixtures", value=[{"id": "B", "kind": "basin", "wall": "z"}]),
        "rooms[0].fixtures[0].wall: the room has no wall 'z'",
    ),
    "a fixture past its wall": (
        _bad(*ROOM, "fixtures", value=[TUB | {"at_mm": 2600}]),
        "rooms[0].fixtures[0]: ends at 4,100 mm, past the wall's 4,000 mm",
    ),
    "two fixtures of one name": (
        _bad(*ROOM, "fixtures", value=[TUB, TUB]),
        "rooms[0].fixtures[1].id: 'T' is there twice in this room",
    ),
    "a stair to nowhere": (
        _bad(*ROOM, "joins", value=["den", "loft"]),
        "rooms[0].joins[1]: there is no room 'loft'",
    ),
    "a door lit by nothing": (
        _bad(*WALL, "openings", 0, "light", value="L9"),
        "rooms[0].walls[0].openings[0].light: there is no box 'L9'",
    ),
    "a switch of nothing": (
        _bad(*BOX, "devices", 0, "controls", value=["R1", "L9"]),
        "boxes[0].devices[0].controls[1]: there is no box 'L9'",
    ),
    "an island along a wall": (
        _bad("counters", 0, "kind", value="island"),
        "counters[0].along: belongs to a wall counter",
    ),
}

MALFORMED = BYTES | SHAPES | REFERENCES
