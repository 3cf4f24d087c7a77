"""A house of two areas that checks in a moment, in three states of being roughed in."""

import copy
import json
from typing import Any

from tests.load.small import HOUSE

PANEL = {
    "id": "P1",
    "room": "east",
    "rating_a": 60,
    "spaces": 16,
    "clear_width_mm": 1000,
    "clear_depth_mm": 1000,
    "clear_height_mm": 2200,
    "highest_handle_mm": 1500,
}
GROUNDING = {
    "electrodes": [{"id": "G1", "kind": "concrete_encased", "conductor": "4"}],
    "pipes": [],
    "intersystem_terminals": 3,
    "surge_protection": True,
    "disconnect": "outdoors",
}


def _tiny() -> dict[str, Any]:
    house = copy.deepcopy(HOUSE)
    house["areas"] = [{"id": "east", "name": "East"}, {"id": "west", "name": "West"}]
    house["rooms"] = [
        {"id": name, "name": name.title(), "kind": "storage", "area": name, "storey": "main"}
        for name in ("east", "west")
    ]
    house["counters"], house["holes"], house["separations"] = [], [], []
    house["panels"] = [PANEL]
    house["grounding"] = GROUNDING
    house["circuits"] = [{"id": "1", "panel": "P1", "name": "All", "breaker_a": 15}]
    house["boxes"] = [
        {
            "id": f"{room}-{kind}",
            "room": room,
            "place": {"surface": "ceiling"},
            "volume_ml": 300,
            "clamps": "none",
            "connectors": 0,
            "gangs": 3 if kind == "wide" else 1,
            "braces": 1,
            "devices": [{"kind": "luminaire", "weight_kg": 2}] if kind == "wide" else [],
            "free_mm": 200,
            "sheath_mm": 10,
            "fixed": True,
            "open_holes": 0,
            "setback_mm": 0,
        }
        for room in ("east", "west")
        for kind in ("wide", "data")
    ]
    house["boxes"][0]["devices"].append({"kind": "smoke_alarm", "battery": True})
    house["cables"] = [
        {
            "id": f"{room}-p",
            "kind": "nm",
            "awg": "14",
            "circuit": "1",
            "ends": ["P1", f"{room}-wide"],
        }
        for room in ("east", "west")
    ] + [
        {"id": f"{room}-d", "kind": "data", "bonding": 0, "ends": ["P1", f"{room}-data"]}
        for room in ("east", "west")
    ]
    return house


def tiny(*, braces: int | None = 1, run_mm: int = 5000) -> bytes:
    """The house with so many braces in the east (None: not recorded) and such a data run."""
    house = _tiny()
    wide, run = house["boxes"][0], house["cables"][2]
    run["length_mm"] = run_mm
    if braces is None:
        del wide["braces"]
    else:
        wide["braces"] = braces
    return json.dumps(house).encode()


HOUSES = {
    "clean": tiny(),
    "short": tiny(braces=0),
    "unknown": tiny(braces=None),
    "rerouted": tiny(run_mm=9000),
}
