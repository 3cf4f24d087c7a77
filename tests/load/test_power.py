"""Faults of power in a house file: each names what is wrong and what to do."""

import json
from typing import Any

import pytest

from inspections.checker.load import HouseFaults, load_house
from tests.loads.houses import house_data


def faults(data: dict[str, Any]) -> list[str]:
    try:
        load_house(json.dumps(data).encode())
    except HouseFaults as error:
        return [str(fault) for fault in error.faults]
    return []


def changed(*path: str | int, value: Any) -> dict[str, Any]:
    data = house_data()
    at: Any = data
    for part in path[:-1]:
        at = at[part]
    at[path[-1]] = value
    return data


def test_the_house_as_it_is_has_no_fault() -> None:
    assert faults(house_data()) == []


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        (("appliances", 0, "volt_amperes"), -5, "appliances[0].volt_amperes: must be at least 0"),
        (
            ("circuits", 3, "poles"),
            1,
            "circuits[3].slots: spaces 2, poles 1; give one space for each pole",
        ),
        (
            ("appliances", 1, "circuit"),
            "1",
            "appliances[1].volts: 240 V on circuit '1', which has one pole; give the circuit two "
            "poles or correct the volts",
        ),
        (
            ("appliances", 1, "circuit"),
            "x",
            "appliances[1].circuit: there is no circuit 'x'",
        ),
        (
            ("panels", 0, "spaces"),
            5,
            "panels[0].spaces: 6 poles do not fit 5 places; take a larger panel or fewer circuits",
        ),
        (("circuits", 2, "slots"), [3, 4], "circuits[3].slots[0]: space 4 is taken by circuits[2]"),
        (("circuits", 2, "half"), "a", "circuits[2].half: half of a tandem breaker has one pole"),
        (("service", "floor_area", "value"), 0, "service.floor_area.value: must be more than 0"),
        (
            ("service", "floor_area", "unit"),
            "sqft",
            "service.floor_area.unit: must be one of 'm2'",
        ),
        (
            ("service", "hookup"),
            {"wants": [{"name": "Furnace", "circuit": "zz"}]},
            "service.hookup.wants[0].circuit: there is no circuit 'zz'",
        ),
        (
            ("service", "hookup"),
            {"wants": [{"name": "Heater", "circuit": "1", "volts": 240}]},
            "service.hookup.wants[0].volts: 240 V on circuit '1', which has one pole",
        ),
        (
            ("cables", 0, "current_carrying"),
            3,
            "cables[0].current_carrying: 3 carry current of 2 insulated conductors; give at most 2",
        ),
    ],
)
def test_a_fault_names_what_is_wrong_and_the_remedy(path, value, line: str) -> None:
    assert any(fault.startswith(line) for fault in faults(changed(*path, value=value)))


def test_two_halves_of_a_tandem_share_a_space_and_a_third_does_not() -> None:
    data = house_data()
    data["panels"][0]["tandem_spaces"] = [7]
    halves = [
        {"id": f"t{half}", "panel": "P1", "name": "T", "breaker_a": 15, "slots": [7], "half": half}
        for half in ("a", "b")
    ]
    data["circuits"] += halves
    assert faults(data) == []
    data["circuits"].append({**halves[0], "id": "again"})
    assert any("space 7 is taken" in fault for fault in faults(data))
    data["circuits"][-1] = {
        "id": "whole",
        "panel": "P1",
        "name": "W",
        "breaker_a": 15,
        "slots": [7],
    }
    assert any("space 7 is taken" in fault for fault in faults(data))


def test_a_240_volt_appliance_at_the_end_of_a_single_pole_cable_is_a_fault() -> None:
    data = house_data()
    del data["appliances"][1]["circuit"]
    data["cables"].append(
        {"id": "C9", "kind": "nm", "awg": "14", "circuit": "1", "ends": ["P1", "HE"]}
    )
    assert any("appliances[1].volts: 240 V on circuit '1'" in fault for fault in faults(data))
