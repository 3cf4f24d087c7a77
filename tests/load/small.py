"""A small house that loads, to be spoiled one way at a time."""

import copy
from typing import Any

HOUSE: dict[str, Any] = {
    "format": "studbay-house-1",
    "name": "One room",
    "rulebook": "cec-2021",
    "storeys": [{"id": "main", "name": "Main floor"}],
    "areas": [{"id": "all", "name": "All of it"}],
    "rooms": [
        {
            "id": "den",
            "name": "Den",
            "kind": "den",
            "area": "all",
            "storey": "main",
            "walls": [
                {
                    "id": "n",
                    "length_mm": 4000,
                    "openings": [
                        {"kind": "door", "at_mm": 500, "width_mm": 800, "swing": "none"},
                        {"kind": "window", "at_mm": 2000, "width_mm": 900, "sill_mm": 900},
                    ],
                },
                {"id": "e", "length_mm": 3000},
                {"id": "s", "length_mm": 4000},
                {"id": "w", "length_mm": 3000},
            ],
        }
    ],
    "counters": [
        {
            "id": "K1",
            "room": "den",
            "kind": "wall",
            "along": [{"wall": "s", "at_mm": 0, "width_mm": 2000}],
            "interruptions": [{"kind": "sink", "at_mm": 500, "width_mm": 600}],
        }
    ],
    "panels": [{"id": "P1", "room": "den", "spaces": 12}],
    "circuits": [
        {"id": "1", "panel": "P1", "name": "Den", "breaker_a": 15, "slots": [1]},
        {"id": "2", "panel": "P1", "name": "Bar", "breaker_a": 15, "slots": [2]},
    ],
    "boxes": [
        {
            "id": "R1",
            "room": "den",
            "place": {"surface": "wall", "wall": "e", "at_mm": 1500, "height_mm": 300},
            "volume_ml": 262,
            "devices": [{"kind": "receptacle", "circuit": "1"}],
        },
        {"id": "T1", "room": "den", "place": {"surface": "ceiling"}, "volume_ml": 295},
    ],
    "cables": [
        {"id": "C1", "kind": "nm", "awg": "14", "circuit": "1", "ends": ["P1", "R1"]},
        {"id": "D1", "kind": "data", "insulated": 8, "bonding": 0, "ends": ["P1", "T1"]},
    ],
    "holes": [{"id": "H1", "room": "den", "member": "stud", "cables": ["C1"]}],
    "separations": [{"cables": ["C1", "D1"], "room": "den", "distance_mm": 300}],
}

GONE = object()


def spoiled(*path: str | int, value: Any = GONE) -> dict[str, Any]:
    """The small house with one value changed, or taken out."""
    house = copy.deepcopy(HOUSE)
    at: Any = house
    for part in path[:-1]:
        at = at[part]
    if value is GONE:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return house
