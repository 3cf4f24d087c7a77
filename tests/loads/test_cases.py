"""Every load case that stands as data in cases/, by every rulebook it names."""

import pytest

from inspections.checker.rulebook import rulebook_ids
from tests.loads.build import Case, cases, run_case
from tests.loads.run_cases import outcomes

ALL = cases()
KNOWN = {"read", "memory", "worked", "practice"}


@pytest.mark.parametrize("case", ALL, ids=[case["id"] for case in ALL])
def test_case(case: Case) -> None:
    assert run_case(case) == []


def test_there_are_thirty_calculations_over_both_codes() -> None:
    loads = [case for case in ALL if case.get("kind", "load") == "load"]
    assert len(loads) >= 30
    for code in ("nec", "cec"):
        assert sum(book.startswith(code) for case in loads for book in case["rulebooks"][:1]) >= 12
    assert {book for case in loads for book in case["rulebooks"]} == set(rulebook_ids())


def test_every_case_says_how_it_is_known_and_ids_are_unique() -> None:
    assert all(case["known"] in KNOWN for case in ALL)
    assert all(case["source"] for case in ALL if case["known"] == "read")
    assert len({case["id"] for case in ALL}) == len(ALL)


def test_a_wrong_figure_is_told() -> None:
    case = next(case for case in ALL if case["id"] == "US-LOAD-01")
    wrong = run_case({**case, "expect": {**case["expect"], "cooking": 8001, "dreyer": 1}})
    assert any("cooking is 8000" in line for line in wrong)
    assert any("dreyer is not computed" in line for line in wrong)


@pytest.mark.parametrize("case", [c for c in ALL if "contradicts" in c], ids=lambda c: c["id"])
def test_a_source_that_contradicts_itself_is_marked_in_one_line(case: Case) -> None:
    assert 20 < len(case["contradicts"]) < 140
    assert "\n" not in case["contradicts"]


def test_the_runner_of_all_cases_prints_each_load_case_with_its_section() -> None:
    lines = [each.line for each in outcomes()]
    assert len(lines) == len(ALL)
    assert all(" pass" in line for line in lines)
    assert any("8-200: LOAD-01" in line and "headline says 173.1" in line for line in lines)
