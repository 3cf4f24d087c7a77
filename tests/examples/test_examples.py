"""The examples are what they say they are."""

import copy
import json
import tomllib
from typing import Any

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.load import load_house
from tests.conftest import EXAMPLES

PLANTED = tomllib.loads((EXAMPLES / "planted.toml").read_text("utf-8"))
CORRECTED = json.loads((EXAMPLES / PLANTED["of"]).read_text("utf-8"))
HOUSES = sorted(
    path.name
    for path in EXAMPLES.glob("*.json")
    if path.name not in ("house.schema.json", PLANTED["planted"])
)


def wanting(house: dict[str, Any]) -> dict[str, str]:
    """What is short or unknown in a house, by key."""
    value = load_house(json.dumps(house).encode())
    findings = check(value, load_rulebook(value.rulebook or ""))
    passing = (Verdict.OK, Verdict.VERIFY)
    return {f.key: f.verdict.value for f in findings if f.verdict not in passing}


def edited(house: dict[str, Any], edits: list[dict[str, Any]]) -> dict[str, Any]:
    """The house with the edits of one planted defect made."""
    house = copy.deepcopy(house)
    for edit in edits:
        parts = house[edit["part"]]
        if "id" not in parts[0]:  # a list whose parts are named by their place
            part = parts[int(edit["id"])]
        else:
            part = next(part for part in parts if part["id"] == edit["id"])
        part.update(copy.deepcopy(edit.get("set", {})))
        for key in edit.get("unset", []):
            del part[key]
    return house


@pytest.mark.parametrize("name", HOUSES)
def test_nothing_is_short_or_unknown(name: str) -> None:
    assert wanting(json.loads((EXAMPLES / name).read_text("utf-8"))) == {}


def test_the_planted_house_is_its_twin_with_every_edit_made() -> None:
    edits = [edit for defect in PLANTED["defect"] for edit in defect["edit"]]
    planted = json.loads((EXAMPLES / PLANTED["planted"]).read_text("utf-8"))
    assert edited(CORRECTED, edits) | {"note": ""} == planted | {"note": ""}


@pytest.mark.parametrize("defect", PLANTED["defect"], ids=lambda defect: defect["key"])
def test_each_planted_defect_alone_gives_its_finding_alone(defect: dict[str, Any]) -> None:
    assert wanting(edited(CORRECTED, defect["edit"])) == {defect["key"]: defect["verdict"]}


def test_the_planted_house_has_a_dozen_defects_or_more_of_every_rule() -> None:
    keys = {defect["key"] for defect in PLANTED["defect"]}
    assert len(keys) >= 12
    assert {key.split(":")[0] for key in keys} >= {
        "box-fill",
        "wall-receptacles",
        "counter-receptacles",
        "wide-box-support",
        "communications-separation",
    }


def test_the_full_house_is_as_large_as_it_says() -> None:
    house = load_house(json.dumps(CORRECTED).encode())
    assert len(house.boxes) >= 110
    assert len(house.circuits) == 35
    assert [panel.rating_a for panel in house.panels if panel.rating_a] == [200]
    assert sum(room.kind == "bedroom" for room in house.rooms) == 3
