"""Every case that stands as data in cases/, by every rulebook it names."""

import pytest

from inspections.checker import rulebook_ids, rules
from tests.checker.build import Case, cases

PAIRS = [(case, book) for case in cases() for book in case.rulebooks]
KNOWN = {"read", "memory", "worked", "practice"}


@pytest.mark.parametrize(
    ("case", "book"), PAIRS, ids=[f"{case.file}-{book}-{case.title}" for case, book in PAIRS]
)
def test_case(case: Case, book: str) -> None:
    assert case.check(book) == []


def test_every_rule_has_cases_in_both_codes() -> None:
    codes = {(case.file, book[:3]) for case, book in PAIRS}
    assert codes == {(rule, code) for rule in rules() for code in ("nec", "cec")}


def test_every_case_says_how_its_figure_is_known() -> None:
    assert all(case.known in KNOWN and case.section for case in cases())
    assert all(case.source for case in cases() if case.known == "read")
    assert {book for _, book in PAIRS} == set(rulebook_ids())
