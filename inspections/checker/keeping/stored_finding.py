"""A finding as rows keep it: its facts, limits and messages as JSON, no sentence.

Whoever reads it later needs no rule for that: messages say themselves by their ids.
"""

from collections.abc import Callable, Mapping
from typing import Any

from config.messages.stored import to_json

from ..facts import facts_json
from ..finding import Finding
from ..rulebook import Limit

SAID = ("title", "where", "says", "figure", "limit", "remedy")
"""What of a stored finding is a message."""


def stored_finding(finding: Finding) -> dict[str, Any]:
    """One finding: identity, verdict, place, facts, limits, and its messages."""
    words = finding.words
    amended = []
    for limit in finding.limits:
        if limit.amended:
            amended.append(limit.reason)
    return {
        "rule": finding.rule.id,
        "version": finding.rule.version,
        "title": to_json(finding.rule.named),
        "topic": finding.rule.topic,
        "stage": finding.rule.stage,
        "subject": finding.subject,
        "verdict": finding.verdict.value,
        "area": finding.spot.area,
        "room": finding.spot.room,
        "where": to_json(finding.spot.text),
        "says": to_json(words.says),
        "figure": to_json(words.figure),
        "limit": to_json(words.limit),
        "working": [to_json(line) for line in words.working],
        "remedy": to_json(words.remedy),
        "section": finding.section,
        "edition": finding.edition,
        "known": finding.known,
        "amended": amended,
        "fingerprint": finding.fingerprint,
        "facts": finding.facts_as_json,
        "limits": [_limit(limit) for limit in finding.limits],
    }


def _limit(limit: Limit) -> dict[str, Any]:
    """A limit with its figure; a table is named alone, since a row needs one line of it."""
    value = facts_json(limit.value)
    if isinstance(value, dict):
        value = None
    return {
        "name": limit.name,
        "value": value,
        "unit": limit.unit,
        "section": limit.section,
        "edition": limit.edition,
    }


def said_finding(stored: Mapping[str, Any], say: Callable[[Any], str]) -> dict[str, Any]:
    """A stored finding with its messages said to a reader; all else as it is."""
    told = dict(stored)
    for name in SAID:
        told[name] = say(stored[name])
    told["working"] = [say(line) for line in stored["working"]]
    return told
