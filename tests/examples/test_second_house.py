"""The second example: two storeys over a basement, with a garage, and its planted defects."""

import copy
import json
import tomllib
from typing import Any

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Verdict, rules
from inspections.checker.load import load_house
from tests.conftest import EXAMPLES

SECOND = EXAMPLES / "second"
PLANTED = tomllib.loads((SECOND / "defects.toml").read_text("utf-8"))
SOUND = json.loads((SECOND / PLANTED["of"]).read_text("utf-8"))
Data = dict[str, Any]


def wanting(house: Data) -> dict[str, str]:
    """What is short or unknown by the rules that the house has facts and defects for, by key."""
    made = load_house(json.dumps(house).encode())
    found = check(made, load_rulebook(made.rulebook or ""))
    return {
        f.key: f.verdict.value
        for f in found
        if f.rule.id in PLANTED["rules"] and f.verdict not in (Verdict.OK, Verdict.VERIFY)
    }


def with_defects(defects: list[Data]) -> Data:
    """The house with the edits of these defects made, parts taken out last."""
    house: Data = copy.deepcopy(SOUND)
    edits = [edit for defect in defects for edit in defect["edit"]]
    places = {
        (kind, part.get("id", str(place))): part
        for kind, parts in house.items()
        if isinstance(parts, list)
        for place, part in enumerate(parts)
    }
    for edit in edits:
        part, within = _found(house, places, edit)
        part.update(copy.deepcopy(edit.get("set", {})))
        for key in edit.get("unset", []):
            del part[key]
        if edit.get("gone"):
            within.remove(part)
    return house


def _found(house: Data, places: dict[tuple[str, str], Data], edit: Data) -> tuple[Data, Any]:
    """The part that an edit speaks of, and the list or value that it stands in."""
    if edit["part"] != "house":
        return places[edit["part"], edit["id"]], house[edit["part"]]
    part: Any = house
    within: Any = None
    for step in edit.get("at", ()):
        part, within = part[step], part
    return part, within


def found_by(defect: Data) -> Data:
    """What a defect leads to: a finding, or where one fault shows at several things, each."""
    return dict.fromkeys([defect["key"], *defect.get("also", ())], defect["verdict"])


def test_it_has_two_storeys_a_basement_and_a_garage() -> None:
    assert [storey["id"] for storey in SOUND["storeys"]] == ["basement", "main", "upper"]
    assert {"garage", "stair", "recreation", "bedroom"} <= {room["kind"] for room in SOUND["rooms"]}
    assert len(SOUND["boxes"]) >= 120


def test_all_defects_together_are_found_and_nothing_else() -> None:
    assert wanting(SOUND) == {}
    assert wanting(with_defects(PLANTED["defect"])) == {
        key: verdict for defect in PLANTED["defect"] for key, verdict in found_by(defect).items()
    }


@pytest.mark.parametrize("defect", PLANTED["defect"], ids=lambda defect: defect["key"])
def test_each_defect_alone_gives_its_finding_alone(defect: Data) -> None:
    assert wanting(with_defects([defect])) == found_by(defect)


def test_there_are_sixty_of_them_and_one_at_least_of_every_rule() -> None:
    keys = [defect["key"] for defect in PLANTED["defect"]]
    assert len(keys) == len(set(keys)) >= 60
    assert {key.partition(":")[0] for key in keys} == set(PLANTED["rules"]) <= set(rules())


def test_every_rule_that_computes_something_of_this_house_has_one() -> None:
    made = load_house(json.dumps(SOUND).encode())
    found = check(made, load_rulebook(made.rulebook or ""))
    computed = {finding.rule.id for finding in found if finding.verdict is not Verdict.VERIFY}
    assert computed <= set(PLANTED["rules"])
    assert len(computed) >= 60
