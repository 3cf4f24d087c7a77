"""Each defect of the planted house can be closed by one fact, and only by one that complies."""

import pytest

from inspections.checker.finding import Finding, Verdict
from inspections.checker.house.fixes import FixKind
from inspections.checker.house.paths import NoSuchPath, put_at, value_at
from inspections.checker.load import HouseFaults
from inspections.fixes.fixes import fixes_of, settles

from . import planted

NOT_ONE_FACT: dict[str, str] = {}
"""Findings that no change of one fact settles, each with the reason: of the planted house none."""
SETTLED = (Verdict.OK, None)


@pytest.mark.parametrize("finding", planted.failing(), ids=lambda finding: finding.key)
def test_a_defect_is_settled_by_one_fact_that_complies(finding: Finding) -> None:
    if finding.key in NOT_ONE_FACT:
        return
    fixes = fixes_of(planted.facts(), finding)
    assert fixes, "nothing is offered"
    for fix in fixes:
        tried = []
        for value in planted.complying(fix):
            try:
                verdict = planted.again(finding, planted.changed(fix.path, value))
            except HouseFaults:  # somewhere else stands something already
                continue
            tried.append(verdict)
            if verdict in SETTLED:
                break
        assert set(tried) & set(SETTLED), (fix, tried[:3])


@pytest.mark.parametrize("finding", planted.failing(), ids=lambda finding: finding.key)
def test_a_figure_beyond_its_limit_settles_nothing(finding: Finding) -> None:
    """So what a phone says of a figure without signal is what the house says when it is checked."""
    for fix in fixes_of(planted.facts(), finding):
        wrong = planted.breaking(fix)
        if wrong is None:
            continue
        assert settles(fix, wrong) is False, fix
        verdict = planted.again(finding, planted.changed(fix.path, wrong))
        assert verdict not in SETTLED, fix


@pytest.mark.parametrize("finding", planted.failing(), ids=lambda finding: finding.key)
def test_a_fix_says_the_value_of_now_and_another(finding: Finding) -> None:
    for fix in fixes_of(planted.facts(), finding):
        assert fix.now == value_at(planted.facts().json, fix.path), fix
        if fix.kind is FixKind.DONE:
            assert fix.to != fix.now
        assert fix.now not in fix.choices
        if fix.kind in (FixKind.LENGTH, FixKind.VOLUME) and fix.now is not None:
            assert settles(fix, fix.now) is False, fix


def test_what_is_ok_or_only_to_verify_has_nothing_to_fix() -> None:
    finding = planted.failing()[0]
    for verdict in (Verdict.OK, Verdict.VERIFY):
        other = Finding(
            finding.rule,
            finding.subject,
            verdict,
            finding.spot,
            finding.facts,
            finding.limits,
        )
        assert fixes_of(planted.facts(), other) == ()


def test_boxes_are_offered_from_what_this_house_uses() -> None:
    (full,) = (each for each in planted.failing() if each.key == "box-fill:R16")
    larger = fixes_of(planted.facts(), full)[0]
    assert larger.path == ("boxes", "R16", "volume_ml")
    assert larger.least == pytest.approx(196.8)
    used = {box.volume_ml for box in planted.house().boxes if box.gangs == 1}
    assert larger.choices
    assert set(larger.choices) <= used
    assert min(larger.choices) >= 196.8


@pytest.mark.parametrize(
    "path", [("boxes", "R999", "volume_ml"), ("boxes", "R16", "devices", 9, "awg"), ()]
)
def test_a_path_of_no_part_is_refused(path: tuple[str | int, ...]) -> None:
    with pytest.raises(NoSuchPath):
        put_at({"boxes": [{"id": "R16", "devices": []}]}, path, 1)


def test_a_part_is_added_changed_and_taken_out_by_its_id() -> None:
    house = {"boxes": [{"id": "R1"}]}
    put_at(house, ("boxes", "R2"), {"id": "R2", "gangs": 1})
    put_at(house, ("boxes", "R2", "gangs"), 2)
    put_at(house, ("device_depth_mm", "switch"), 32.0)
    assert value_at(house, ("boxes", "R2")) == {"id": "R2", "gangs": 2}
    assert value_at(house, ("device_depth_mm", "switch")) == 32.0
    put_at(house, ("boxes", "R2"), None)
    assert value_at(house, ("boxes", "R2")) is None


def test_one_end_of_a_pair_leaves_the_other_as_it_is() -> None:
    house = {"cables": [{"id": "C1"}]}
    put_at(house, ("cables", "C1", "first_supports_mm", 1), 200.0)
    assert house["cables"] == [{"id": "C1", "first_supports_mm": [None, 200.0]}]
