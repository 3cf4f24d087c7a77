"""Findings as text for a terminal."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from config.languages import say
from inspections.checker.check import silent_rules
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Limit, Rulebook

CAUTION = (
    "This list computes and reminds; it licenses nobody. The adopted code with its local "
    "amendments rules, and the inspector decides. Work de-energised and locked out, tested "
    "dead; only licensed people do licensed work."
)
KNOWN = {
    "read": "",
    "memory": "limit from memory, not read in a source",
    "practice": "common practice, no source",
}


def report_text(house: House, rulebook: Rulebook, findings: Sequence[Finding]) -> str:
    """The whole checklist, area by area and room by room."""
    return "\n".join(_lines(house, rulebook, findings)) + "\n"


def _lines(house: House, rulebook: Rulebook, findings: Sequence[Finding]) -> Iterator[str]:
    yield house.name
    yield f"by {rulebook.title}"
    for limit in rulebook.amended:
        yield amended_line(limit)
    for rule in silent_rules(rulebook):
        yield f"no limit in this code: {rule.title}"
    areas = {}
    for area in house.areas:
        areas[area.id] = area.name
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    by_room = groupby(findings, lambda f: (f.rule.stage, f.spot.area, f.spot.room))
    for (stage, area, room), group in by_room:
        yield ""
        at = ""
        if stage == "finish":
            at = " (at the finish)"
        yield f"{areas[area]} / {rooms[room]}{at}"
        for finding in group:
            yield from _finding(finding)
    verdicts = []
    for finding in findings:
        verdicts.append(finding.verdict)
    counts = Counter(verdicts)
    yield ""
    tallies = []
    for verdict in Verdict:
        tallies.append(f"{counts[verdict]} {verdict}")
    yield ", ".join(tallies)
    yield ""
    yield CAUTION


def amended_line(limit: Limit) -> str:
    """An amended limit in one line; a loosened one says so."""
    way = "amended"
    if limit.loosened:
        way = "LOOSENED"
    return f"{way}: {limit.name} {limit.amended_from} to {limit.value} {limit.unit}: {limit.reason}"


def _finding(finding: Finding) -> Iterator[str]:
    words = finding.words
    yield f"  [{finding.verdict:^7}] {say(finding.rule.named)}: {say(finding.spot.text)}"
    yield f"            {say(words.says)}"
    for line in words.working:
        yield f"              {say(line)}"
    if words.remedy:
        yield f"            To do: {say(words.remedy)}"
    known = KNOWN[finding.known]
    source = f"{finding.edition} {finding.section}"
    yield f"            {source} ({known})" if known else f"            {source}"
