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
