"""The checklist sheet: every item as a person walks, to be carried and ticked."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from reportlab.platypus import Flowable

from config.languages import speaking
from config.languages.own_words import Typed
from config.messages.message import Joined, Text, Value
from inspections.checker.check import silent_rules
from inspections.checker.finding import TO_DO, Finding, Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.report_messages import (
    AT_FINISH,
    IN_RULE,
    SILENT,
    amended_line,
    source_line,
)
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.frame import TitleBlock, sheet_pdf
from inspections.papers.sheets.rows import Heading, Legend, SheetRow, Signature, TextBlock
from inspections.papers.sheets.styles import BOLD, REGULAR
from inspections.standing.shown_messages import OK_ON_SITE, verdict_shown

MEANING = {
    Verdict.OK: says.MEANS_OK,
    Verdict.NOT_TO_CODE: says.MEANS_WRONG,
    Verdict.VERIFY: says.MEANS_VERIFY,
    Verdict.INFO_NEEDED: says.MEANS_MISSING,
}


@dataclass(frozen=True, slots=True)
class Mark:
    """What was last seen of an item on site: a word, who, when, and a note.

    `passed` and `failing` say where the item stands by it; neither, that it is open as before.
    """

    word: Value
    by: str
    when: str
    note: str = ""
    passed: bool = False
    failing: bool = False

    @property
    def told(self) -> Text:
        """The mark in a line."""
        if self.note:
            return says.SEEN_NOTE(word=self.word, person=self.by, day=self.when, note=self.note)
        return says.SEEN(word=self.word, person=self.by, day=self.when)


def checklist_pdf(
    house: House,
    rulebook: Rulebook,
    findings: Sequence[Finding],
    *,
    title_block: TitleBlock | None = None,
    marks: Mapping[str, Mark] | None = None,
    paper: str = "letter",
) -> bytes:
    """The checklist as a PDF; the same input gives the same bytes.

    `marks` tells what was seen, by finding key. `paper` is `letter` or `a4`.
    """
    block = title_block or TitleBlock(
        sheet=says.CHECKLIST(), job=house.name, rulebook=rulebook.title
    )
    return sheet_pdf(
        block, paper, lambda _room: list(_story(house, rulebook, findings, marks or {}))
    )


def _story(
    house: House, rulebook: Rulebook, findings: Sequence[Finding], marks: Mapping[str, Mark]
) -> Iterator[Flowable]:
    yield from _summary(findings, marks)
    yield TextBlock(CAUTION, 7.2)
    for limit in rulebook.amended:
        yield TextBlock(amended_line(limit), 7.6, bold=limit.loosened)
    for rule in silent_rules(rulebook):
        yield TextBlock(SILENT(rule=rule.named), 7.2)
    areas = {area.id: area.name for area in house.areas}
    rooms = {room.id: room.name for room in house.rooms}
    tell = speaking()
    by_area = groupby(findings, lambda finding: (finding.rule.stage, finding.spot.area))
    for (stage, area), in_area in by_area:
        title: Value = Typed(areas[area])
        if stage == "finish":
            title = AT_FINISH(area=areas[area])
        yield Heading(title, large=True, key=f"{stage}-{area}")
        for room, in_room in groupby(in_area, lambda finding: finding.spot.room):
            yield Heading(Typed(rooms[room]), large=False)
            for finding in in_room:
                yield _row(finding, marks.get(finding.key), tell)
    yield Signature()


def _summary(findings: Sequence[Finding], marks: Mapping[str, Mark]) -> Iterator[Flowable]:
    """How many items stand how, and how many were passed on site."""
    counts = Counter(_open_as(each, marks.get(each.key)) for each in findings)
    legend = []
    for verdict in Verdict:
        counted = says.COUNT(n=counts[verdict], verdict=verdict_shown(verdict))
        legend.append((verdict.value, counted, MEANING[verdict]()))
    yield Legend(legend)
    if counts[None]:
        yield TextBlock(says.SEEN_OK(n=counts[None]), 7.6, bold=True)


def _open_as(finding: Finding, mark: Mark | None) -> Verdict | None:
    """As what an item is counted; None once somebody passed it on site."""
    if mark is not None and mark.passed:
        return None
    if mark is not None and mark.failing:
        return Verdict.NOT_TO_CODE
    return finding.verdict


def _row(finding: Finding, mark: Mark | None, tell: Callable[[object], str]) -> SheetRow:
    words = finding.words
    passed = mark is not None and mark.passed
    to_do = ""
    if words.remedy and not passed:
        to_do = tell(TO_DO(remedy=words.remedy))
    shown = verdict_shown(finding.verdict)
    if passed:
        shown = OK_ON_SITE()
    source = source_line(finding.edition, finding.section, finding.known)
    return SheetRow(
        finding.verdict.value,
        (
            (IN_RULE(rule=finding.rule.named, where=finding.spot.text), BOLD, 7.8),
            (words.says, REGULAR, 8),
            (Joined(words.working, "; "), REGULAR, 6.4),
            (to_do, BOLD, 7.4),
            (mark.told if mark else "", BOLD, 7.4),
            (source, REGULAR, 6.2),
        ),
        tell(shown),
        ticked=passed,
    )
