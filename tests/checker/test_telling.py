"""Findings in words: every case of every rule is told, in the units its readers use."""

import json
import re

import pytest

from config.messages.saying import said
from inspections.checker.finding import Finding, Verdict
from tests.checker.build import cases, findings, house

GROUPS = sorted({(case.file, book) for case in cases() for book in case.rulebooks})


@pytest.fixture(params=GROUPS, ids="-".join)
def told(request: pytest.FixtureRequest) -> list[Finding]:
    """Every finding on the houses of one rule's cases, by one rulebook."""
    rule, book = request.param
    houses = [house(**json.loads(json.dumps(c.house))) for c in cases(rule) if book in c.rulebooks]
    return [finding for made in houses for finding in findings(made, book).values()]


def text_of(finding: Finding) -> str:
    """Everything a finding says."""
    words = finding.words
    said_of = (words.says, words.figure, words.limit, *words.working, words.remedy)
    return "\n".join(map(said, (*said_of, finding.spot.text)))


def test_every_finding_is_told(told: list[Finding]) -> None:
    for finding in told:
        words, text = finding.words, text_of(finding)
        assert said(words.says)[-1] in ".)"
        assert words.working
        assert bool(words.remedy) == (finding.verdict is not Verdict.OK)
        assert finding.section
        assert finding.edition
        assert not re.search(r"\binf\b|\bnan\b|None|[{}]", text)


def one(book: str, key: str, **parts) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]
