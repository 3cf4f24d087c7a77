"""Faults in what a house file says of holes, staples, bundles and crossings."""

import json

import pytest

from inspections.checker.load import HouseFaults, load_house
from tests.load.small import HOUSE

GIVEN: dict[str, dict[str, object]] = {
    "notches": {"id": "N1", "room": "den", "member": "stud", "cables": ["C1"]},
    "fastenings": {"id": "F1", "room": "den", "cables": ["C1"]},
    "bundles": {"id": "B1", "room": "den", "cables": ["C1", "D1"]},
    "heat_gaps": {"cable": "C1", "room": "den", "source": "duct"},
    "crossings": {"cable": "C1", "room": "den", "face": "upper"},
}


def faults(kind: str, *parts: dict[str, object]) -> str:
    with pytest.raises(HouseFaults) as caught:
        load_house(json.dumps(HOUSE | {kind: list(parts)}).encode())
    return str(caught.value)


@pytest.mark.parametrize("kind", GIVEN)
def test_each_loads_as_it_is_meant(kind) -> None:
    house = load_house(json.dumps(HOUSE | {kind: [GIVEN[kind]]}).encode())
    assert len(getattr(house, kind)) == 1


@pytest.mark.parametrize("kind", GIVEN)
def test_a_room_that_is_not_there_is_named(kind) -> None:
    told = faults(kind, GIVEN[kind] | {"room": "attic"})
    assert told == f"{kind}[0].room: there is no room 'attic'"


@pytest.mark.parametrize("kind", [kind for kind in GIVEN if "cables" in GIVEN[kind]])
def test_a_cable_that_is_not_there_is_named_by_its_place(kind) -> None:
    told = faults(kind, GIVEN[kind] | {"cables": ["C1", "C9"]})
    assert told == f"{kind}[0].cables[1]: there is no cable 'C9'"


@pytest.mark.parametrize("kind", ["heat_gaps", "crossings"])
def test_the_one_cable_of_a_run_is_there(kind) -> None:
    told = faults(kind, GIVEN[kind] | {"cable": "C9"})
    assert told == f"{kind}[0].cable: there is no cable 'C9'"


@pytest.mark.parametrize("kind", ["notches", "fastenings", "bundles"])
def test_an_id_stands_once_among_its_kind(kind) -> None:
    assert "is taken by" in faults(kind, GIVEN[kind], GIVEN[kind])


def test_a_bundle_has_two_cables_and_a_cable_two_supports() -> None:
    assert "at least 2" in faults("bundles", GIVEN["bundles"] | {"cables": ["C1"]})
    cable = HOUSE["cables"][0] | {"first_supports_mm": [100]}
    assert "first_supports_mm" in faults("cables", cable, *HOUSE["cables"][1:])
