"""Every case that stands as data in cases/, by every rulebook it names."""

from dataclasses import replace

import pytest

from inspections.checker.finding import rules
from inspections.checker.rulebook import rulebook_ids
from tests.checker import run_cases
from tests.checker.build import Case, cases
from tests.checker.run_cases import outcome, report

PAIRS = [(case, book) for case in cases() for book in case.rulebooks]
KNOWN = {"read", "memory", "worked", "practice"}
WRONG = Case(
    file="box-fill",
    title="a box of 13.9 in³ for a fill of 14",
    rulebooks=["nec-2023"],
    section="314.16(B)",
    known="read",
    source="A made-up page; off by a hair",
    house={"boxes": [{"volume_in3": 13.9, "devices": ["switch"]}], "cables": ["14/2", "14/2"]},
    expect={"box-fill:b": "ok"},
)


@pytest.mark.parametrize(
    ("case", "book"), PAIRS, ids=[f"{case.file}-{book}-{case.title}" for case, book in PAIRS]
)
def test_case(case: Case, book: str) -> None:
    assert case.faults(book) == []


def test_every_rule_has_cases_in_both_codes() -> None:
    codes = {(case.file, book[:3]) for case, book in PAIRS}
    spoken = {(case.file, book[:3]) for case, book in PAIRS if case.file in rules()}
    assert codes == spoken == {(rule, code) for rule in rules() for code in ("nec", "cec")}


def test_every_case_says_how_its_figure_is_known() -> None:
    assert all(case.known in KNOWN and case.section for case in cases())
    assert all(case.source for case in cases() if case.known == "read")
    assert {book for _, book in PAIRS} == set(rulebook_ids())


def test_there_are_enough_cases_from_enough_sources_in_both_codes() -> None:
    every = cases()
    sources = {outcome.published for outcome in run_cases.outcomes() if outcome.published}
    assert len(every) >= 200
    assert len(sources) >= 25
    assert all(sum(code in case.codes for case in every) >= 80 for code in ("NEC", "CEC"))


def test_a_disputed_case_names_the_source_that_it_disputes() -> None:
    disputed = [case for case in cases() if case.disputed]
    assert disputed
    assert all(case.source and case.known == "read" for case in disputed)


def test_a_case_that_fails_says_what_differs() -> None:
    failed = outcome(WRONG)
    assert failed.faults
    assert failed.line.startswith("NEC      314.16(B): a box of 13.9 in³ for a fill of 14 [read: A")
    assert "FAIL (nec-2023: box-fill:b is not_to_code, not ok" in failed.line
    assert failed.published == "A made-up page"


def test_a_figure_is_held_and_not_only_the_verdict() -> None:
    right = replace(WRONG, expect={"box-fill:b": {"verdict": "not_to_code", "fill_in3": 14.0}})
    off = replace(WRONG, expect={"box-fill:b": {"verdict": "not_to_code", "fill_in3": 14.01}})
    assert right.faults("nec-2023") == []
    assert "has fill_ml" in off.faults("nec-2023")[0]


def test_a_finding_that_is_not_there_or_should_not_be_there_is_a_fault() -> None:
    gone = replace(WRONG, expect={"box-fill:zz": "ok"}, absent=["box-fill:b"])
    first, second = gone.faults("nec-2023")
    assert first == "box-fill:b should not be there"
    assert second.startswith("no finding box-fill:zz; there are")


def test_a_disputed_case_passes_while_the_checker_differs_and_fails_once_it_agrees() -> None:
    disputed = replace(WRONG, disputed="equal is the least that holds it")
    assert outcome(disputed).line.endswith("pass (disputed, equal is the least that holds it)")
    agreeing = replace(disputed, expect={"box-fill:b": "not_to_code"})
    assert "take the mark out" in outcome(agreeing).line
    assert "FAIL" in outcome(agreeing).line


def test_a_case_that_is_no_house_file_is_a_fault() -> None:
    broken = replace(WRONG, house={"cables": [{"awg": "14", "ends": ["P", "nowhere"]}]})
    assert "there is no box, panel or appliance 'nowhere'" in broken.faults("nec-2023")[0]


def test_the_report_ends_with_counts(monkeypatch, capsys) -> None:
    right = replace(WRONG, expect={"box-fill:b": "not_to_code"}, rulebooks=["nec-2023", "nec-2020"])
    lines = list(report(map(outcome, [WRONG, right])))
    assert lines[2:] == [
        *("", "2 cases: NEC 2", "known by: read 2", "1 distinct sources, 0 cases disputed"),
        "1 passed, 1 failed",
    ]
    monkeypatch.setattr(run_cases, "outcomes", lambda: map(outcome, [right]))
    assert run_cases.main() == 0
    monkeypatch.setattr(run_cases, "outcomes", lambda: map(outcome, [right, WRONG]))
    assert run_cases.main() == 1
    assert capsys.readouterr().out.endswith("1 passed, 1 failed\n")
