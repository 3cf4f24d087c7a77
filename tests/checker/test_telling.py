"""Findings in words: every case of every rule is told, in the units its readers use."""

import json
import re

import pytest

from inspections.checker.finding import Finding, Verdict
from tests.checker.build import cases, findings, house

GROUPS = sorted({(case.file, book) for case in cases() for book in case.rulebooks})


@pytest.fixture(params=GROUPS, ids="-".join)
def told(request: pytest.FixtureRequest) -> list[Finding]:
    """Every finding on the houses of one rule's cases, by one rulebook."""
    rule, book = request.param
    houses = [house(**json.loads(json.dumps(c.house))) for c in cases(rule) if book in c.rulebooks]
    return [finding for made in houses for finding in findings(made, book).values()]


LENGTH = re.compile(r"[\d,.]+ mm\b(?! \(|²)")
VOLUME = re.compile(r"[\d,.]+ mL\b(?! \()")


def text_of(finding: Finding) -> str:
    """Everything a finding says."""
    words = finding.words
    return "\n".join(
        [words.says, words.figure, words.limit, *words.working, words.remedy, finding.spot.words]
    )


def test_every_finding_is_told(told: list[Finding]) -> None:
    for finding in told:
        words, text = finding.words, text_of(finding)
        assert words.says.endswith(".")
        assert words.figure
        assert words.working
        assert bool(words.remedy) == (finding.verdict is not Verdict.MEETS)
        assert finding.section
        assert finding.edition
        assert not re.search(r"\binf\b|\bnan\b|None|[{}]", text)


def test_units_are_those_its_readers_use(told: list[Finding]) -> None:
    for finding in told:
        text = text_of(finding).replace("by its depth in mm", "")
        if finding.edition.startswith("NEC"):
            assert not VOLUME.search(text)
            assert not LENGTH.search(text)
        else:
            assert " in³" not in text
            assert " ft " not in text


def test_what_is_missing_is_named_when_it_is_unknown(told: list[Finding]) -> None:
    for finding in told:
        if finding.verdict is Verdict.UNKNOWN:
            assert "record" in finding.words.says
            assert re.search("[Rr]ecord|[Mm]easure", finding.words.remedy)


def one(book: str, key: str, **parts) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def test_a_short_box_shows_the_whole_sum() -> None:
    finding = one(
        "cec-2021",
        "box-fill:b",
        boxes=[
            {"volume_ml": 150, "connectors": 2, "devices": [{"kind": "switch", "depth_mm": 22}]}
        ],
        cables=["14/2", "14/2"],
    )
    assert finding.words.says == "The fill is 172.2 mL, more than the 150.0 mL that the box holds."
    assert finding.words.working == (
        "conductors of 14 AWG that end here: 4 × 24.6 mL = 98.4 mL",
        "switch on its strap, of 14 AWG: 2 × 24.6 mL = 49.2 mL",
        "pairs of wire connectors, of 14 AWG: 1 × 24.6 mL = 24.6 mL",
        "in all 172.2 mL",
        "the box holds 150.0 mL",
    )
    assert finding.section == "Table 22, 12-3034 2) c), 12-3034 2) b)"
    assert finding.known == "memory"


def test_a_short_wall_says_where_it_is_out_of_reach() -> None:
    finding = one(
        "nec-2023",
        "wall-receptacles:r/a.1",
        room={"closed": False, "walls": ["20ft"]},
        receptacles=["a@6ft^300", "a@7ft^6ft"],
    )
    assert finding.words.says == (
        "Out of reach on this wall space: 2,438.4 mm (8 ft 0 in) along wall a, "
        "beginning 3,657.6 mm (12 ft 0 in) from its left end."
    )
    assert "receptacle R2 does not count: it stands 1,828.8 mm (6 ft 0 in) up" in (
        finding.words.working
    )
    assert finding.words.figure == "2,438.4 mm (8 ft 0 in) out of reach"
    assert finding.words.limit == "within 1,828.8 mm (6 ft 0 in)"


def test_a_missing_fact_that_makes_no_difference_is_said_to() -> None:
    finding = one(
        "nec-2023",
        "wall-receptacles:r/a.1",
        room={"closed": False, "walls": ["6ft"]},
        receptacles=["a@3ft^?", "a@3ft"],
    )
    assert finding.verdict is Verdict.MEETS
    assert "not recorded: how high box R1 stands; the same either way" in finding.words.working
