"""A finding as an item keeps it: words for people, made once and copied."""

from typing import Any

from inspections.checker.finding import Finding


def finding_record(finding: Finding) -> dict[str, Any]:
    """The finding in words, as a JSON value."""
    words = finding.words
    return {
        "title": finding.rule.title,
        "topic": finding.rule.topic,
        "stage": finding.rule.stage,
        "room": finding.spot.room,
        "where": finding.spot.words,
        "says": words.says,
        "figure": words.figure,
        "limit": words.limit,
        "working": list(words.working),
        "remedy": words.remedy,
        "section": finding.section,
        "edition": finding.edition,
        "known": finding.known,
        "amended": [limit.reason for limit in finding.limits if limit.amended],
    }
