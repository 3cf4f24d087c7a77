"""A small house with a service, a panel and what it feeds, to be changed one way at a time."""

import copy
import json
from typing import Any

from inspections.checker.house import House
from inspections.checker.load import load_house
from tests.load.small import HOUSE

SERVICE: dict[str, Any] = {
    "floor_area": {"value": 12, "unit": "m2"},
    "rating_a": 100,
    "conductor": "3",
    "material": "copper",
    "electrode": "water_pipe",
    "heat_control": "room",
    "interlocked": True,
    "small_appliance_circuits": 2,
    "laundry_circuits": 1,
}


def house_data(**service: Any) -> dict[str, Any]:
    """The house as a file's values; a keyword changes a fact of the service, None takes it out."""
    data = copy.deepcopy(HOUSE)
    data["circuits"] += [
        {"id": "r", "panel": "P1", "name": "Range", "breaker_a": 40, "poles": 2, "slots": [3, 5]},
        {"id": "h", "panel": "P1", "name": "Heater", "breaker_a": 20, "poles": 2, "slots": [4, 6]},
    ]
    data["appliances"] = [
        {
            "id": "RA",
            "room": "den",
            "name": "Range",
            "kind": "range",
            "volt_amperes": 12000,
            "volts": 240,
            "circuit": "r",
        },
        {
            "id": "HE",
            "room": "den",
            "name": "Heater",
            "kind": "space_heating",
            "volt_amperes": 2000,
            "volts": 240,
            "circuit": "h",
            "continuous": True,
        },
    ]
    kept = {**copy.deepcopy(SERVICE), **service}
    data["service"] = {name: value for name, value in kept.items() if value is not None}
    return data


def made(data: dict[str, Any]) -> House:
    """The house that the values describe, by the same way as a file."""
    return load_house(json.dumps(data).encode())
