"""The site list: a plan with what is open by its number, then room by room a line for each."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from reportlab.platypus import CondPageBreak, Flowable, FrameBreak, NextPageTemplate, PageBreak

from config.languages.own_words import Typed
from config.messages.message import Joined, Value
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.checklist import SeenMark
from inspections.papers.sheets.finding_marks import numbers_on_plan
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.house_plan import HousePlan, PlanLabel, plan_aspect
from inspections.papers.sheets.large_frame import LIST, PaperRoom, large_pdf, lying, upright
from inspections.papers.sheets.place_words import place_beyond
from inspections.papers.sheets.site_head import SiteHead, SiteKey, head_lines
from inspections.papers.sheets.site_rows import Numbered, NumberedRow, RoomHead, VerifyRow
from inspections.papers.sheets.styles import register_fonts
from inspections.papers.sheets.tick_boxes import TickBox
from inspections.papers.sheets.verify_cards import Cards, verify_cards
from inspections.standing.holds import Seen

FEW = 15
"""So many numbered lines leave room for the list beneath the plan."""
HIGHEST, LOWEST = 0.46, 0.24
"""Of a sheet that the plan takes when the list begins beneath it."""
ROOM_LEAST = 60.0
"""Points that a room needs to begin in a column: its head, a row, its name said again."""


@dataclass(frozen=True)
class SiteList:
    """What goes on the site list of one stage of a house."""

    house: House
    findings: Sequence[Finding]
    """Of one stage, as a person walks."""
    marks: Mapping[str, SeenMark] = field(default_factory=dict)
    """What was seen on site, by the key of a finding."""
    alone: Collection[str] = ()
    """Keys of what is not confirmed together with its room."""
    numbers: Mapping[str, int] = field(default_factory=dict)
    """The numbers of what is open, by the key of its finding; without them they are counted."""

    def counted(self) -> "SiteList":
        """With numbers, in the order in which a job's open lines have them."""
        if self.numbers:
            return self
        by_figures: list[str] = []
        by_eye: list[str] = []
        for finding in self.findings:
            mark = self.marks.get(finding.key)
            if finding.verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED):
                by_figures.append(finding.key)
            elif mark is not None and mark.failing:
                by_eye.append(finding.key)
        numbers = {}
        for number, key in enumerate([*by_figures, *by_eye], 1):
            numbers[key] = number
        return replace(self, numbers=numbers)


def site_list_pdf(
    given: SiteList,
    rulebook: Rulebook,
    *,
    title_block: TitleBlock | None = None,
    paper: str = "letter",
) -> bytes:
    """The site list as a PDF; the same input gives the same bytes."""
    register_fonts()  # heights are asked before the file is begun
    listed = given.counted()
    block = title_block or TitleBlock(
        sheet=words.SITE_LIST(), job=listed.house.name, rulebook=rulebook.title
    )
    cards = verify_cards(listed.findings, listed.marks, listed.numbers, listed.alone)
    if len(listed.numbers) <= FEW:
        return _few(listed, block, cards, paper)
    first = upright(paper)
    if plan_aspect(listed.house) > 1:
        first = lying(paper)

    def story() -> list[Flowable]:
        plan = HousePlan(listed.house, _labels(listed))
        head = _head(listed, block, cards)
        return [NextPageTemplate(LIST), *head, plan, PageBreak(), *_rooms(listed, cards)]

    return large_pdf(block, paper, story, first=first)


def _few(listed: SiteList, block: TitleBlock, cards: Cards, paper: str) -> bytes:
    """On one sheet the plan and, beneath it in two columns, where the list begins."""
    sheet = upright(paper)
    head = 0.0
    for each in _head(listed, block, cards):
        head += each.wrap(sheet.wide, sheet.tall)[1]
    tall = _plan_height(listed, sheet, sheet.tall - head - _list_height(listed, cards, sheet))
    above = head + tall

    def story() -> list[Flowable]:
        plan = HousePlan(listed.house, _labels(listed), tall - 1)
        head = _head(listed, block, cards)
        rooms = _rooms(listed, cards)
        return [NextPageTemplate(LIST), *head, plan, FrameBreak(), *rooms]

    return large_pdf(block, paper, story, first=sheet, head=above)


def _plan_height(listed: SiteList, sheet: PaperRoom, left: float) -> float:
    """How high the plan is drawn: less high where the list then ends on the same sheet."""
    aspect = plan_aspect(listed.house)
    if not aspect:
        return 2.0
    storeys = len({room.storey for room in listed.house.rooms if room.walls})
    tall = min(sheet.wide / aspect * storeys, sheet.tall * HIGHEST)
    if sheet.tall * LOWEST * storeys <= left < tall:
        return left
    return tall


def _list_height(listed: SiteList, cards: Cards, sheet: PaperRoom) -> float:
    """The lowest two columns that hold the list, as rows come one after another."""
    heights: list[float] = []
    head = 0.0
    for each in _rooms(listed, cards):
        if isinstance(each, CondPageBreak):
            continue
        tall = head + each.wrap(sheet.column, sheet.tall)[1]
        head = 0.0
        if isinstance(each, RoomHead):
            head = tall  # it keeps with the row after it
        else:
            heights.append(tall)
    column = sum(heights) / 2
    while not _in_two_columns(heights, column):
        column += 4
    return column + ROOM_LEAST


def _in_two_columns(heights: Sequence[float], column: float) -> bool:
    filled, number = 0.0, 1
    for tall in heights:
        if filled + tall > column:
            filled, number = 0.0, number + 1
        filled += tall
    return number <= 2


def _labels(listed: SiteList) -> list[PlanLabel]:
    return numbers_on_plan(listed.house, listed.findings, listed.numbers)


def _head(listed: SiteList, block: TitleBlock, cards: Cards) -> list[Flowable]:
    return [
        SiteHead(words.SHEET_OF(sheet=block.sheet, job=block.job), _counts(listed), block.check),
        SiteKey(bool(listed.marks)),
        *head_lines(cards),
    ]


def _counts(listed: SiteList) -> list[tuple[str, int]]:
    """How many lines have which verdict, those that were OK on site apart."""
    counts: Counter[str] = Counter()
    for finding in listed.findings:
        mark = listed.marks.get(finding.key)
        if mark is not None and mark.passed:
            counts["site"] += 1
        elif mark is not None and mark.na:
            counts[Seen.NA] += 1
        elif mark is not None and mark.failing:
            counts[Verdict.NOT_TO_CODE] += 1
        else:
            counts[finding.verdict] += 1
    order = [Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED, Verdict.VERIFY, Verdict.OK, "site", Seen.NA]
    return [(name, counts[name]) for name in order]


def _rooms(listed: SiteList, cards: Cards) -> Iterator[Flowable]:
    """Room by room: what is numbered, then what to verify."""
    names = {}
    for room in listed.house.rooms:
        names[room.id] = room.name
    for room, group in groupby(listed.findings, lambda finding: finding.spot.room):
        lines = list(group)
        name = Typed(names[room])
        yield CondPageBreak(ROOM_LEAST)
        yield RoomHead(name, _room_counts(listed, lines))
        for finding in lines:
            if finding.key in listed.numbers:
                yield NumberedRow(name, _numbered(listed, finding))
        for ticks in cards.rows(room):
            yield VerifyRow(name, ticks)


def _room_counts(listed: SiteList, findings: Sequence[Finding]) -> Value:
    on_plan = on_site = 0
    for finding in findings:
        mark = listed.marks.get(finding.key)
        if mark is not None and mark.passed:
            on_site += 1
        elif mark is not None and mark.na:
            continue
        elif finding.verdict is Verdict.OK and finding.key not in listed.numbers:
            on_plan += 1
    parts: list[Value] = [words.OK_ON_PLAN(n=on_plan)]
    if on_site:
        parts.append(words.OK_ON_SITE(n=on_site))
    return Joined(tuple(parts), ", ")


def _numbered(listed: SiteList, finding: Finding) -> Numbered:
    said, mark = finding.words, listed.marks.get(finding.key)
    told: Value = ""
    tick = TickBox.OPEN
    if mark is not None:
        told = mark.told
        if mark.passed:
            tick = TickBox.OK
        elif mark.failing:
            tick = TickBox.FIX
    verdict = finding.verdict
    if mark is not None and mark.failing and verdict is not Verdict.INFO_NEEDED:
        verdict = Verdict.NOT_TO_CODE
    return Numbered(
        number=listed.numbers[finding.key],
        verdict=verdict.value,
        says=said.says,
        to_do=said.remedy,
        where=place_beyond(finding.spot, said.says),
        told=told,
        tick=tick,
    )
