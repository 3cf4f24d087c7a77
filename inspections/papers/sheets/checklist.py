"""The checklist sheet: every item as a person walks, to be carried and ticked."""

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
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
from inspections.papers.report.beyond import working_beyond
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
from inspections.papers.sheets.tick_boxes import TickBox
from inspections.standing.holds import Seen
from inspections.standing.shown_messages import OK_ON_SITE, seen_shown, verdict_shown

MEANING = {
    Verdict.OK: says.MEANS_OK,
    Verdict.NOT_TO_CODE: says.MEANS_WRONG,
    Verdict.VERIFY: says.MEANS_VERIFY,
    Verdict.INFO_NEEDED: says.MEANS_MISSING,
}


@dataclass(frozen=True, slots=True)
class SeenMark:
    """What was last seen of an item on site: a word, who, when, and a note.

    `passed`, `failing` and `na` say where the item stands by it; none of them, that it is open as
    before.
    """

    word: Value
    by: str
    when: str
    note: str = ""
    passed: bool = False
    failing: bool = False
    na: bool = False
    """Whether it passes since it does not apply; the note says why."""
    measured: Value = ""
    """What a tape showed that it passes by."""

    @property
    def told(self) -> Text:
        """The mark in a line."""
        if self.na:
            return says.NOT_APPLICABLE(reason=self.note, person=self.by, day=self.when)
        if self.measured:
            return self._measured()
        if self.note:
            return says.SEEN_NOTE(word=self.word, person=self.by, day=self.when, note=self.note)
        return says.SEEN(word=self.word, person=self.by, day=self.when)

    def _measured(self) -> Text:
        given = {"length": self.measured, "person": self.by, "day": self.when}
        if self.note:
            return says.MEASURED_NOTE(**given, note=self.note)
        return says.MEASURED(**given)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What was seen on site, by finding key, and what is never confirmed with its room."""

    marks: Mapping[str, SeenMark]
    alone: Collection[str]

    def is_with_its_room(self, finding: Finding) -> bool:
        """Whether an item is one of those that a room has one line for.

        What hands make and is OK on plan is, until somebody says anything else of it than OK.
        """
        by_hand = finding.rule.workmanship and finding.verdict is Verdict.OK
        mark = self.marks.get(finding.key)
        if mark is not None and not mark.passed:
            return False
        return by_hand and finding.key not in self.alone


def checklist_pdf(
    house: House,
    rulebook: Rulebook,
    findings: Sequence[Finding],
    *,
    title_block: TitleBlock | None = None,
    marks: Mapping[str, SeenMark] | None = None,
    alone: Collection[str] = (),
    paper: str = "letter",
) -> bytes:
    """The checklist as a PDF; the same input gives the same bytes.

    `marks` tells what was seen, by finding key; `alone` names what is not confirmed together with
    its room. `paper` is `letter` or `a4`.
    """
    block = title_block or TitleBlock(
        sheet=says.CHECKLIST(), job=house.name, rulebook=rulebook.title
    )
    seen = _Seen(marks or {}, alone)
    return sheet_pdf(block, paper, lambda _room: list(_story(house, rulebook, findings, seen)))


def _story(
    house: House, rulebook: Rulebook, findings: Sequence[Finding], seen: _Seen
) -> Iterator[Flowable]:
    yield _summary(findings, seen)
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
        items = list(in_area)
        yield _area_counts(items, seen)
        for room, in_room in groupby(items, lambda finding: finding.spot.room):
            yield Heading(Typed(rooms[room]), large=False)
            yield from _room(list(in_room), seen, tell)
    yield Signature()


def _summary(findings: Sequence[Finding], seen: _Seen) -> Legend:
    """How many items stand how; those that were passed on site apart from those on plan, and from
    those that do not apply, where there are any."""
    counts = Counter(_open_as(each, seen.marks.get(each.key)) for each in findings)
    on_site = says.COUNT(n=counts[None], verdict=OK_ON_SITE())
    legend: list[tuple[str, Value, Value]] = [(Verdict.OK.value, on_site, says.MEANS_SITE())]
    if counts[Seen.NA]:
        na = says.COUNT(n=counts[Seen.NA], verdict=seen_shown(Seen.NA))
        legend.append((Seen.NA.value, na, says.MEANS_NA()))
    for verdict in Verdict:
        counted = says.COUNT(n=counts[verdict], verdict=verdict_shown(verdict))
        legend.append((verdict.value, counted, MEANING[verdict]()))
    return Legend(legend)


def _area_counts(findings: Sequence[Finding], seen: _Seen) -> TextBlock:
    """How much of an area somebody on site has confirmed, and how much only complies as drawn."""
    counts = Counter(_open_as(each, seen.marks.get(each.key)) for each in findings)
    says_ok = says.AREA_OK(site=counts[None], plan=counts[Verdict.OK])
    if counts[Seen.NA]:
        says_ok = says.AREA_OK_NA(site=counts[None], plan=counts[Verdict.OK], na=counts[Seen.NA])
    return TextBlock(says_ok, 7.6, bold=True)


def _room(
    findings: Sequence[Finding], seen: _Seen, tell: Callable[[object], str]
) -> Iterator[SheetRow]:
    """The lines of a room: one for each item, then one for all that is as drawn."""
    together: dict[SeenMark | None, list[Finding]] = {}
    for finding in findings:
        mark = seen.marks.get(finding.key)
        if seen.is_with_its_room(finding):
            together.setdefault(mark, []).append(finding)
        else:
            yield _row(finding, mark, tell)
    for mark, same in together.items():
        yield _as_drawn_row(same, mark, tell)


def _as_drawn_row(
    findings: Sequence[Finding], mark: SeenMark | None, tell: Callable[[object], str]
) -> SheetRow:
    """One line with one square for all of a room that is OK on plan."""
    counts = Counter(finding.rule.named for finding in findings)
    titles = []
    for title, n in counts.items():
        titles.append(says.CHECK_TIMES(check=title, n=n) if n > 1 else title)
    shown = verdict_shown(Verdict.OK)
    if mark:
        shown = OK_ON_SITE()
    return SheetRow(
        Verdict.OK.value,
        (
            (says.AS_DRAWN(n=len(findings), checks=Joined(tuple(titles), ", ")), BOLD, 7.8),
            (mark.told if mark else "", BOLD, 7.4),
        ),
        tell(shown),
        box=TickBox.OK if mark else TickBox.OPEN,
    )


def _open_as(finding: Finding, mark: SeenMark | None) -> Verdict | Seen | None:
    """As what an item is counted; None once somebody passed it on site."""
    if mark is not None and mark.na:
        return Seen.NA
    if mark is not None and mark.passed:
        return None
    if mark is not None and mark.failing:
        return Verdict.NOT_TO_CODE
    return finding.verdict


def _row(finding: Finding, mark: SeenMark | None, tell: Callable[[object], str]) -> SheetRow:
    words = finding.words
    passed = mark is not None and mark.passed
    na = mark is not None and mark.na
    to_do: Value = ""
    if words.remedy and not passed and not na:
        to_do = TO_DO(remedy=words.remedy)
    shown, glyph = verdict_shown(finding.verdict), finding.verdict.value
    if passed:
        shown = OK_ON_SITE()
    elif na:
        shown, glyph = seen_shown(Seen.NA), Seen.NA.value
    elif mark is not None and mark.failing and glyph != Verdict.NOT_TO_CODE:
        shown, glyph = seen_shown(Seen.FIX), Verdict.NOT_TO_CODE.value
    source = source_line(finding.edition, finding.section, finding.known)
    return SheetRow(
        glyph,
        (
            (IN_RULE(rule=finding.rule.named, where=finding.spot.text), BOLD, 7.8),
            (words.says, REGULAR, 8),
            (Typed("; ".join(working_beyond(words, tell))), REGULAR, 6.4),
            (to_do, BOLD, 7.4),
            (mark.told if mark else "", BOLD, 7.4),
            (source, REGULAR, 6.2),
        ),
        tell(shown),
        box=_box(finding, mark),
    )


def _box(finding: Finding, mark: SeenMark | None) -> TickBox | None:
    """The square of a line as it was answered; none where the figures have settled it."""
    if mark is not None and mark.passed:
        return TickBox.OK
    if mark is not None and mark.na:
        return TickBox.NA
    if mark is not None and mark.failing:
        return TickBox.FIX
    if finding.verdict is Verdict.OK and not finding.rule.workmanship:
        return None
    return TickBox.OPEN
