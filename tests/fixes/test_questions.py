"""A fact that is missing of many parts is one question, and one answer is one revision."""

import json
from copy import deepcopy
from typing import Any

import pytest

from config.languages import say
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.fixes import FixKind, fact_of
from inspections.checker.house.paths import put_at
from inspections.checker.load import load_house
from inspections.fixes.fact_words import may_be_corrected
from inspections.fixes.questions import Question, answer_to, questions_of

from . import planted


def without_depths() -> dict[str, Any]:
    """The planted house before anybody said how deep its switches are."""
    house = deepcopy(planted.raw())
    house["device_depth_mm"] = {}
    for box in house["boxes"]:
        for device in box.get("devices", ()):
            if device["kind"] == "switch":
                device.pop("depth_mm", None)
    return house


def loaded(house: dict[str, Any]) -> tuple[House, list[Finding]]:
    value = load_house(json.dumps(house).encode())
    return value, check(value, planted.book())


def depth_of(questions: tuple[Question, ...]) -> Question:
    (one,) = (each for each in questions if each.path == ("device_depth_mm", "switch"))
    return one


def lacking(findings: list[Finding], boxes: set[str]) -> set[str]:
    """Those of the boxes whose fill still lacks the depth of a switch."""
    found = set()
    for each in findings:
        if each.rule.id != "box-fill" or each.verdict is not Verdict.INFO_NEEDED:
            continue
        if DeviceKind.SWITCH in {missing.device for missing in each.facts.missing}:
            found.add(each.subject)
    return found & boxes


@pytest.fixture(scope="module")
def asked() -> tuple[Question, set[str]]:
    house, findings = loaded(without_depths())
    one = depth_of(questions_of(house, findings))
    return one, {each.part for each in one.asked}


def answered(changes: list[tuple[Any, Any]]) -> list[Finding]:
    after = without_depths()
    for path, value in changes:
        put_at(after, path, value)
    return loaded(after)[1]


def test_the_depth_of_a_switch_is_asked_once_for_all_boxes(asked) -> None:
    one, boxes = asked
    assert len(boxes) > 3
    assert lacking(answered([]), boxes) == boxes
    assert len(one.asked) >= len(boxes)
    assert say(one.says, "en") == "How deep is the switch you use?"


def test_one_answer_settles_all_of_them(asked) -> None:
    one, boxes = asked
    changes = answer_to(one, 32.0)
    assert changes == [(("device_depth_mm", "switch"), 32.0)]
    assert lacking(answered(changes), boxes) == set()


def test_those_that_are_not_so_have_a_value_of_their_own(asked) -> None:
    one, boxes = asked
    other = sorted(boxes)[0]
    changes = dict(answer_to(one, 32.0, {other: 60.0}))
    own = {each.path for each in one.asked if each.part == other}
    assert {path: value for path, value in changes.items() if path in own} == dict.fromkeys(
        own, 60.0
    )
    assert set(changes) == own | {one.path}
    assert lacking(answered(list(changes.items())), boxes) == set()


def test_a_fact_of_each_part_is_asked_once_and_written_for_each() -> None:
    house = deepcopy(planted.raw())
    wide = [box for box in house["boxes"] if box.get("gangs", 1) > 2]
    for box in wide:
        box.pop("braces", None)
    value, findings = loaded(house)
    (one,) = (each for each in questions_of(value, findings) if each.path[-1] == "braces")
    parts = {each.part for each in one.asked}
    assert parts == {box["id"] for box in wide}
    assert len(parts) > 1
    assert one.least == 1
    assert f"and {len(parts) - 1} more" in say(one.says, "en")
    first = sorted(parts)[0]
    changes = dict(answer_to(one, 1, {first: None}))
    assert set(changes) == {("boxes", part, "braces") for part in parts - {first}}


def test_what_is_not_to_code_is_no_question_and_every_answer_may_be_written() -> None:
    questions = questions_of(planted.facts(), planted.failing())
    assert questions
    for each in questions:
        for part in each.asked:
            assert may_be_corrected(part.path), part
        keys = {part.key for part in each.asked}
        verdicts = {found.verdict for found in planted.failing() if found.key in keys}
        assert verdicts == {Verdict.INFO_NEEDED}


def test_the_depth_of_a_product_is_a_length_like_that_of_one_device(asked) -> None:
    one, _ = asked
    assert one.kind is FixKind.LENGTH
    assert fact_of(one.path) == "device_depth_mm"
    assert fact_of(("boxes", "S2", "devices", 0, "depth_mm")) == "depth_mm"
    assert fact_of(("cables", "C1", "first_supports_mm", 1)) == "first_supports_mm"
