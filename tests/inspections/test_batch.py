"""Many houses at once: the same answers in the same order, whatever the processes."""

from collections import Counter

import pytest

from bench.batch import check_batch
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.rulebook import RulebookFault
from tests.conftest import EXAMPLES

OVERLAY = """
[[amend]]
limit = "wall-receptacles.reach_mm"
value = 500
unit = "mm"
reason = "a shop that wants more of them"
"""


def verdicts(house: House, findings: list[Finding]) -> tuple[str, Counter[str]]:
    """The house's name, and how many of each verdict."""
    return house.name, Counter(finding.verdict.value for finding in findings)


def found(house: House, findings: list[Finding]) -> list[Finding]:
    """Everything."""
    return findings


@pytest.mark.parametrize("processes", [1, 2])
def test_each_house_in_its_turn_and_faults_where_there_is_none(processes: int) -> None:
    names = ("quillet-planted.json", "gannet.json")
    raws = [(EXAMPLES / name).read_bytes() for name in names]
    told = list(check_batch([raws[0], b"{", raws[1]], "cec-2021", verdicts, processes=processes))
    book, houses = load_rulebook("cec-2021"), [load_house(raw) for raw in raws]
    assert told[0::2] == [verdicts(house, check(house, book)) for house in houses]
    assert str(told[1]).startswith("not JSON at line 1")


def test_findings_come_back_whole_from_another_process() -> None:
    raw = (EXAMPLES / "gannet.json").read_bytes()
    (told,) = check_batch([raw], "cec-2021", found)
    assert told == check(load_house(raw), load_rulebook("cec-2021"))
    assert all(finding.words.says for finding in told)


def test_amendments_go_along() -> None:
    raw = (EXAMPLES / "gannet.json").read_bytes()
    (told,) = check_batch([raw], "cec-2021", found, amendments=OVERLAY)
    assert not isinstance(told, str)
    assert any(f.rule.id == "wall-receptacles" and f.verdict == "not_to_code" for f in told)


def test_an_unknown_rulebook_is_refused_at_once() -> None:
    with pytest.raises(RulebookFault, match="no rulebook"):
        next(check_batch([], "nec-1999", found))
