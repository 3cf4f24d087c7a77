"""Findings as text for a terminal."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from config.languages import say
from config.messages.message import message
from inspections.checker.check import silent_rules
from inspections.checker.finding import TO_DO, Finding, Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.papers.report import report_messages as says
from inspections.papers.report.beyond import working_beyond
from inspections.papers.report.report_messages import amended_line, source_line
from inspections.standing.shown_messages import verdict_shown

CAUTION = message(
    "report.caution",
    "This list computes and reminds; it licenses nobody. The adopted code with its local "
    "amendments rules, and the inspector decides. De-energize, lock out and test dead before "
    "work. Only licensed people do licensed work.",
)()
IN = " " * 16
"""How far in the lines of a finding begin."""


def report_text(house: House, rulebook: Rulebook, findings: Sequence[Finding]) -> str:
    """The whole checklist, area by area and room by room."""
    return "\n".join(_lines(house, rulebook, findings)) + "\n"


def _lines(house: House, rulebook: Rulebook, findings: Sequence[Finding]) -> Iterator[str]:
    yield house.name
    yield say(says.BY_RULEBOOK(rulebook=rulebook.title))
    for limit in rulebook.amended:
        yield say(amended_line(limit))
    for rule in silent_rules(rulebook):
        yield say(says.SILENT(rule=rule.named))
    areas = {}
    for area in house.areas:
        areas[area.id] = area.name
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    by_room = groupby(findings, lambda f: (f.rule.stage, f.spot.area, f.spot.room))
    for (stage, area, room), group in by_room:
        yield ""
        place = says.AREA_ROOM(area=areas[area], room=rooms[room])
        if stage == "finish":
            place = says.AT_FINISH(area=place)
        yield say(place)
        for finding in group:
            yield from _finding(finding)
    verdicts = []
    for finding in findings:
        verdicts.append(finding.verdict)
    counts = Counter(verdicts)
    yield ""
    tallies = []
    for verdict in Verdict:
        tallies.append(say(says.COUNTED(n=counts[verdict], verdict=verdict_shown(verdict))))
    yield ", ".join(tallies)
    yield ""
    yield say(CAUTION)


def _finding(finding: Finding) -> Iterator[str]:
    words = finding.words
    place = says.IN_RULE(rule=finding.rule.named, where=finding.spot.text)
    yield f"  [{say(verdict_shown(finding.verdict)):^11}] {say(place)}"
    yield f"{IN}{say(words.says)}"
    for line in working_beyond(words, say):
        yield f"{IN}  {line}"
    if words.remedy:
        yield f"{IN}{say(TO_DO(remedy=words.remedy))}"
    yield f"{IN}{say(source_line(finding.edition, finding.section, finding.known))}"
