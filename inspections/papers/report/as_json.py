"""Findings as JSON values."""

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

from config.languages import say
from inspections.checker.check import silent_rules
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.keeping.stored_finding import said_finding, stored_finding
from inspections.checker.rulebook import Limit, Rulebook


def finding_json(finding: Finding, say: Callable[[Any], str] = say) -> dict[str, Any]:
    """One finding with its words, working, facts and the limits it rests on."""
    return said_finding(stored_finding(finding), say)


def report_json(house: House, rulebook: Rulebook, findings: Sequence[Finding]) -> dict[str, Any]:
    """A whole check: the house and rulebook by name, the counts, every finding in order."""
    verdicts = []
    for finding in findings:
        verdicts.append(finding.verdict)
    counts = Counter(verdicts)
    amended = []
    for limit in rulebook.amended:
        amended.append(_limit_json(limit))
    silent = []
    for rule in silent_rules(rulebook):
        silent.append(rule.id)
    by_verdict = {}
    for verdict in Verdict:
        by_verdict[verdict.value] = counts[verdict]
    items = []
    for finding in findings:
        items.append(finding_json(finding))
    return {
        "house": house.name,
        "rulebook": {"id": rulebook.id, "title": rulebook.title},
        "amendments": rulebook.amendments,
        "amended": amended,
        "silent": silent,
        "counts": by_verdict,
        "findings": items,
    }


def _limit_json(limit: Limit) -> dict[str, Any]:
    return {
        "limit": limit.name,
        "from": limit.amended_from,
        "to": limit.value,
        "unit": limit.unit,
        "loosened": limit.loosened,
        "reason": limit.reason,
    }
