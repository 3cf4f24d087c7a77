"""A house of the stranger: its areas have the codes of everybody's, all else is marked."""

import copy
import json
from typing import Any

from tests.inspections.tiny import GROUNDING, PANEL
from tests.load.small import HOUSE

SHARED = ("living", "bedroom", "garage", "east", "west", "all", "main")
"""Codes of areas in the houses that tests are made with."""
OWN = ("zzyzx-attic", "zzyzx-cellar")


def marked_house(codes: tuple[str, ...]) -> bytes:
    """A house of areas with those codes, one room in each, that is neither short nor unknown."""
    house: dict[str, Any] = copy.deepcopy(HOUSE)
    house |= {"name": "Zzyzx house", "counters": [], "holes": [], "separations": []}
    house["storeys"] = [{"id": "zzyzx-floor", "name": "Zzyzx floor"}]
    house["areas"] = [{"id": code, "name": f"Zzyzx {_said(code)}"} for code in codes]
    house["rooms"] = [_room(code) for code in codes]
    first = _room_id(codes[0])
    house["panels"] = [PANEL | {"id": "zzyzx-P", "room": first}]
    house["grounding"] = GROUNDING | {
        "electrodes": [{"id": "zzyzx-G", "kind": "concrete_encased", "conductor": "4"}]
    }
    house["circuits"] = [
        {"id": "zzyzx-1", "panel": "zzyzx-P", "name": "Zzyzx circuit", "breaker_a": 15}
    ]
    house["boxes"] = [_box(code, "wide") for code in codes] + [_box(codes[0], "data")]
    house["boxes"][0]["devices"].append({"kind": "smoke_alarm", "battery": True})
    house["cables"] = [_cable(code, "wide") for code in codes] + [_cable(codes[0], "data")]
    return json.dumps(house).encode()


def _said(code: str) -> str:
    return code.removeprefix("zzyzx-")


def _room_id(code: str) -> str:
    return f"zzyzx-room-{_said(code)}"


def _room(code: str) -> dict[str, Any]:
    walls = [{"id": f"zzyzx-{side}", "length_mm": 3000} for side in "nesw"]
    return {
        "id": _room_id(code),
        "name": f"Zzyzx room {_said(code)}",
        "kind": "storage",
        "area": code,
        "storey": "zzyzx-floor",
        "walls": walls,
    }


def _box_id(code: str, kind: str) -> str:
    return f"zzyzx-{_said(code)}-{kind}"


def _box(code: str, kind: str) -> dict[str, Any]:
    wide = kind == "wide"
    wall = {"surface": "wall", "wall": "zzyzx-e", "at_mm": 1500, "height_mm": 1200}
    return {
        "id": _box_id(code, kind),
        "room": _room_id(code),
        "place": {"surface": "ceiling"} if wide else wall,
        "volume_ml": 300,
        "clamps": "none",
        "connectors": 0,
        "gangs": 3 if wide else 1,
        "braces": 1,
        "devices": [{"kind": "luminaire", "weight_kg": 2}] if wide else [],
        "free_mm": 200,
        "sheath_mm": 10,
        "fixed": True,
        "open_holes": 0,
        "setback_mm": 0,
    }


def _cable(code: str, kind: str) -> dict[str, Any]:
    ends = ["zzyzx-P", _box_id(code, kind)]
    given = {"id": f"zzyzx-{_said(code)}-{kind}", "ends": ends}
    if kind == "data":
        return given | {"kind": "data", "bonding": 0, "length_mm": 5000}
    return given | {"kind": "nm", "awg": "14", "circuit": "zzyzx-1"}
