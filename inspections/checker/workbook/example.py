"""The small house that a blank workbook shows as its example."""

import json
from functools import cache

from ..house import House
from ..load import load_house


def _wall(name: str, length: int, *openings: dict[str, object]) -> dict[str, object]:
    return {"id": name, "length_mm": length, "openings": list(openings)}


EXAMPLE = {
    "format": "studbay-house-1",
    "name": "Example: one room and its panel",
    "rulebook": "nec-2023",
    "storeys": [{"id": "main", "name": "Main floor"}],
    "areas": [{"id": "main", "name": "Main floor"}],
    "rooms": [
        {
            "id": "bed", "name": "Bedroom", "kind": "bedroom", "area": "main", "storey": "main",
            "walls": [
                _wall("n", 3600, {"kind": "window", "at_mm": 1200, "width_mm": 1200}),
                _wall("e", 3000),
                _wall("s", 3600, {"kind": "door", "at_mm": 300, "width_mm": 810, "swing": "left"}),
                _wall("w", 3000),
            ],
        },
        {"id": "utility", "name": "Utility", "kind": "utility", "area": "main", "storey": "main"},
    ],
    "panels": [{"id": "P1", "room": "utility", "rating_a": 200, "spaces": 40}],
    "circuits": [
        {"id": "bed", "panel": "P1", "name": "Bedroom", "breaker_a": 15, "protection": "afci"}
    ],
    "boxes": [
        {
            "id": "R1", "room": "bed",
            "place": {"surface": "wall", "wall": "e", "at_mm": 1500, "height_mm": 300},
            "volume_ml": 295, "devices": [{"kind": "receptacle", "circuit": "bed", "amperes": 15}],
        }
    ],
    "cables": [
        {"id": "C1", "kind": "nm", "ends": ["P1", "R1"], "circuit": "bed", "awg": "14"}
    ],
}  # fmt: skip


@cache
def example() -> House:
    """The example as a house."""
    return load_house(json.dumps(EXAMPLE).encode())
