"""The inspector's pack: open points first, then plans, panel, what was verified, deficiencies."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby

from reportlab.platypus import CondPageBreak, Flowable, NextPageTemplate, PageBreak

from config.languages.own_words import Typed
from config.messages.kept import message_of
from config.messages.message import Amperes, Joined, Value
from inspections.checker.house import House
from inspections.conclusions.areas import today_at
from inspections.drawing.geometry import Placing
from inspections.loads.check_messages import BREAKER
from inspections.models import Deficiency, Given, HouseRevision, Item, Observation
from inspections.overview.as_drawn import seen_ok
from inspections.overview.open_lines import open_lines
from inspections.papers import pack_messages as words
from inspections.papers import site_messages as says
from inspections.papers.documents import title_block
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.house_plan import HousePlan, PlanLabel, plan_aspect
from inspections.papers.sheets.large_frame import LIST, SMALLEST, large_pdf, lying, upright
from inspections.papers.sheets.placard import QrCode
from inspections.papers.sheets.rows import Heading, TextBlock
from inspections.papers.sheets.site_head import SiteHead
from inspections.papers.sheets.site_list_messages import SHEET_OF
from inspections.selectors import (
    ChecklistLine,
    checklist,
    house_of,
    live_cover_releases,
    room_names,
)
from inspections.standing.holds import Standing
from jobs.models import Job, Permit

CODE_SIDE = 110.0
"""Points of a side of the code that opens the appendix."""


def inspector_pack_pdf(
    job: Job, revision: HouseRevision, paper: str = "letter", appendix: str = ""
) -> bytes:
    """What an inspector needs of a job, on few sheets; load and workings are in the appendix, which
    the address `appendix` opens.
    """
    house, rulebook = house_of(revision)
    block = title_block(job, revision, words.SHEET(), rulebook.title)
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    first = upright(paper)
    if plan_aspect(house) > 1:
        first = lying(paper)

    def story() -> list[Flowable]:
        plan = HousePlan(house, circuits_on_plan(house))
        return [
            NextPageTemplate(LIST),
            *_head(job, block, lines),
            plan,
            PageBreak(),
            *_open_points(revision, lines),
            *_deficiencies(job),
            *_verified(job, revision, lines),
            *_panels(house),
            *_appendix(appendix),
        ]

    return large_pdf(block, paper, story, first=first)


def circuits_on_plan(house: House) -> list[PlanLabel]:
    """Beside each box the panel spaces of the circuits that come to it."""
    spaces = {}
    for circuit in house.circuits:
        spaces[circuit.id] = "/".join(map(str, circuit.slots)) or circuit.id
    fed: dict[str, dict[str, None]] = {}
    for cable in house.cables:
        if cable.circuit not in spaces:
            continue
        nodes = [*cable.ends]
        for through in cable.through:
            nodes.append(through.box)
        for node in nodes:
            fed.setdefault(node, {}).setdefault(spaces[cable.circuit])
    points = Placing(house).points
    labels: list[PlanLabel] = []
    for box in house.boxes:
        if box.id in points and box.id in fed:
            text = ", ".join(fed[box.id])
            labels.append(PlanLabel(text, box.room, (points[box.id],), ringed=False))
    return labels


def _line(text: Value, *, bold: bool = False) -> TextBlock:
    return TextBlock(text, SMALLEST, bold=bold, space=2)


def _head(job: Job, block: TitleBlock, lines: Sequence[ChecklistLine]) -> Iterator[Flowable]:
    counts = {"not_to_code": 0, "info_needed": 0, "verify": 0, "ok": 0, "site": 0}
    for line in lines:
        if seen_ok(line):
            counts["site"] += 1
        elif line.standing is Standing.FIX:
            counts["not_to_code"] += 1
        else:
            counts[line.item.verdict] += 1
    name = SHEET_OF(sheet=block.sheet, job=block.job)
    yield SiteHead(name, list(counts.items()), block.check)
    permit = Permit.objects.filter(job=job).first()
    issued: Value = words.NO_PERMIT()
    if permit is not None and permit.issued_on is not None:
        issued = words.PERMIT(number=permit.number, day=permit.issued_on)
    parts: list[Value] = [issued]
    live = live_cover_releases(job)
    for area in job.areas.order_by("id"):
        what: Value = words.NOT_RELEASED()
        if area.id in live:
            release = live[area.id]
            day = today_at(job, release.issued_at)
            what = words.RELEASED(day=day, reference=release.reference)
        parts.append(words.AREA(area=area.name, what=what))
    yield _line(Joined(tuple(parts), "  ·  "), bold=True)
    yield _line(words.CIRCUIT_NUMBERS())


def _open_points(revision: HouseRevision, lines: Sequence[ChecklistLine]) -> Iterator[Flowable]:
    """What is not to code, lacks info or waits to be verified; numbered as on the site list."""
    rooms = room_names(revision)
    yield Heading(words.OPEN_POINTS(), large=True, key="open")
    numbered = open_lines(lines)
    for room, group in groupby(numbered, lambda each: str(each.line.item.finding["room"])):
        yield CondPageBreak(30)
        yield _line(Typed(rooms.get(room, room)), bold=True)
        for each in group:
            if each.line.standing is not Standing.OK:
                said = message_of(each.line.item.finding["says"])
                yield _line(words.OPEN_LINE(number=each.number, says=said))
    waiting = 0
    for line in lines:
        waiting += line.standing is Standing.OPEN
    if waiting:
        yield _line(words.TO_VERIFY(n=waiting), bold=True)
    elif not numbered:
        yield _line(words.NOTHING_OPEN())


def _deficiencies(job: Job) -> Iterator[Flowable]:
    """Everything written up, what is not accepted first."""
    found = list(job.deficiencies.select_related("area", "corrected_by"))
    found.sort(key=lambda each: (each.accepted_at is not None, each.called_at, each.id))
    yield CondPageBreak(50)
    yield Heading(words.DEFICIENCIES(), large=True, key="deficiencies")
    if not found:
        yield _line(says.NONE_WRITTEN_UP())
    for each in found:
        yield _line(_deficiency(job, each), bold=each.accepted_at is None)


def _deficiency(job: Job, each: Deficiency) -> Value:
    where: Value = says.WHOLE_JOB()
    if each.area:
        where = Typed(each.area.name)
    if each.where:
        where = says.AREA_WHERE(area=where, where=each.where)
    answers: list[Value] = []
    if each.corrected_at is not None:
        day = today_at(job, each.corrected_at)
        answers.append(words.CORRECTED(day=day, person=str(each.corrected_by)))
    if each.accepted_at is not None:
        answers.append(words.ACCEPTED(day=today_at(job, each.accepted_at)))
    if not answers:
        answers.append(words.NOT_CORRECTED())
    return words.WRITTEN_UP(
        what=each.what,
        where=where,
        day=today_at(job, each.called_at),
        answer=Joined(tuple(answers), " "),
    )


def _verified(
    job: Job, revision: HouseRevision, lines: Sequence[ChecklistLine]
) -> Iterator[Flowable]:
    """Room by room what was answered OK, by whom, when and how; then the sections of it."""
    rooms = room_names(revision)
    yield CondPageBreak(50)
    yield Heading(words.VERIFIED(), large=True, key="verified")
    sections: dict[str, Value] = {}
    for room, group in groupby(lines, lambda line: str(line.item.finding["room"])):
        answers: dict[tuple[str, datetime, str], list[Observation]] = {}
        for line in group:
            if not seen_ok(line) or line.latest is None:
                continue
            seen, finding = line.latest, line.item.finding
            key = (str(seen.seen_by), seen.seen_at, seen.given)
            answers.setdefault(key, []).append(seen)
            check = words.CHECK_SECTION(
                check=message_of(finding["title"]), section=str(finding["section"])
            )
            sections.setdefault(line.item.rule, check)
        if answers:
            what = Joined(tuple(_answers(job, answers)), "; ")
            yield _line(words.ROOM(room=rooms.get(room, room), what=what))
    if sections:
        yield _line(words.SECTIONS(checks=Joined(tuple(sections.values()), "; ")))
    else:
        yield _line(words.NOTHING_OPEN())


def _answers(
    job: Job, answers: dict[tuple[str, datetime, str], list[Observation]]
) -> Iterator[Value]:
    by_day: dict[tuple[str, str, str], list[Observation]] = {}
    for (person, moment, given), seen in answers.items():
        day = today_at(job, moment).isoformat()
        by_day.setdefault((person, day, given), []).extend(seen)
    for (person, day, given), seen in by_day.items():
        message = words.EACH
        if given == Given.ROOM:
            message = words.ROOM_CHECK
        what: Value = message(n=len(seen), person=person, day=day)
        measured = 0
        for each in seen:
            measured += each.measured_mm is not None
        if measured:
            what = words.MEASURED(what=what, n=measured)
        yield what


def _panels(house: House) -> Iterator[Flowable]:
    """Each panel's circuits by their spaces."""
    for panel in house.panels:
        mine = []
        for circuit in house.circuits:
            if circuit.panel == panel.id:
                mine.append(circuit)
        if not mine:
            continue
        yield CondPageBreak(50)
        yield Heading(words.PANEL(panel=panel.id), large=True, key=f"panel-{panel.id}")
        for circuit in sorted(mine, key=lambda each: (each.slots, each.id)):
            breaker = BREAKER(amps=Amperes(circuit.breaker_a), poles=circuit.poles)
            space = "/".join(map(str, circuit.slots)) or "–"
            yield _line(words.CIRCUIT(space=space, breaker=breaker, name=circuit.name))


def _appendix(address: str) -> Iterator[Flowable]:
    """The code that opens the appendix, and what is in it."""
    if address:
        yield CondPageBreak(CODE_SIDE + 80)
        yield Heading(words.APPENDIX(), large=True, key="appendix")
        yield _line(words.APPENDIX_HOLDS())
        yield QrCode(address, CODE_SIDE)
