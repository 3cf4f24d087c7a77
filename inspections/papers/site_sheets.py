"""Sheets of a job: what to correct, what was written up, what it takes, what the owner keeps."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from itertools import groupby

from config.languages.own_words import Typed
from config.messages.kept import message_of
from config.messages.message import CableRun, Text, Value
from inspections.conclusions.areas import today_at
from inspections.houses.take_off import AreaStuff, HouseStuff, by_name, house_stuff
from inspections.models import Deficiency, HouseRevision
from inspections.papers import site_messages as says
from inspections.papers.documents import title_block
from inspections.papers.handover import handover_sheet
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.document import Document, DocumentRow, PhotographBlock, Section
from inspections.papers.sheets.tables import document_pdf
from inspections.selectors import ChecklistLine, checklist, house_of, room_names
from inspections.standing.holds import Standing
from jobs.models import Job

OPEN = (Standing.FIX, Standing.INFO_NEEDED)


class SiteSheet(StrEnum):
    """The sheets that a crew works by."""

    CORRECTIONS = "corrections"
    DEFICIENCIES = "deficiencies"
    TAKE_OFF = "take-off"
    HANDOVER = "handover"


@dataclass(frozen=True, slots=True)
class _Asked:
    job: Job
    revision: HouseRevision


def site_sheet(job: Job, revision: HouseRevision, which: SiteSheet) -> Document:
    """One of the sheets, from what is on record now."""
    asked = _Asked(job, revision)
    makers: dict[SiteSheet, Callable[[_Asked], Document]] = {
        SiteSheet.CORRECTIONS: _corrections,
        SiteSheet.DEFICIENCIES: _deficiencies,
        SiteSheet.TAKE_OFF: _take_off,
        SiteSheet.HANDOVER: lambda asked: handover_sheet(asked.job, asked.revision),
    }
    return makers[which](asked)


def site_sheet_pdf(
    job: Job, revision: HouseRevision, which: SiteSheet, paper: str = "letter"
) -> bytes:
    """The same on paper, with the job's title block."""
    document = site_sheet(job, revision, which)
    block = title_block(job, revision, document.name, document.rulebook)
    return document_pdf(document, title_block=block, paper=paper)


def _document(
    asked: _Asked, name: Text, verdict: str, told: Text, sections: Sequence[Section]
) -> Document:
    _, rulebook = house_of(asked.revision)
    return Document(
        name, asked.job.name, rulebook.title, verdict, told, tuple(sections), (CAUTION,)
    )


def _corrections(asked: _Asked) -> Document:
    """What fails and what is not recorded yet, by area and room, with the figure and the remedy."""
    lines = []
    for line in checklist(asked.job):
        if line.standing in OPEN:
            lines.append(line)
    written_up = list(_open_deficiencies(asked.job))
    sections = list(_by_area(asked, lines))
    if written_up:
        rows = []
        for each in written_up:
            rows.append(DocumentRow((Typed(each.what), _where(each), _due(each)), "not_to_code"))
        columns = (says.WRITTEN_UP_WHAT(), says.WHERE(), says.DUE())
        sections.insert(0, Section(says.WRITTEN_UP(), columns, tuple(rows), (0.52, 0.32, 0.16)))
    count = len(lines) + len(written_up)
    told, verdict = says.NOTHING_OPEN(), "ok"
    if count:
        told, verdict = says.OPEN(n=count), "not_to_code"
    return _document(asked, says.CORRECTIONS(), verdict, told, sections)


def _by_area(asked: _Asked, lines: Sequence[ChecklistLine]) -> Iterator[Section]:
    rooms = room_names(asked.revision)
    for area in asked.job.areas.order_by("id"):
        mine = []
        for line in lines:
            if line.item.area_id == area.id:
                mine.append(line)
        for room, group in groupby(mine, key=lambda line: str(line.item.finding["room"])):
            rows = tuple(map(_correction_row, group))
            columns = (says.WHAT(), says.FIGURE(), says.LIMIT(), says.REMEDY())
            title = says.AREA_ROOM(area=area.name, room=rooms.get(room, room))
            yield Section(title, columns, rows, (0.3, 0.16, 0.2, 0.34))


def _correction_row(line: ChecklistLine) -> DocumentRow:
    finding = line.item.finding
    failed = line.standing is Standing.FIX
    seen = None
    if line.latest and not line.changed_since:
        seen = line.latest
    under: list[Value] = [message_of(finding["where"])]
    if seen and seen.note:
        under.append(Typed(f"{seen.seen_by}: {seen.note}"))
    cells = [message_of(finding[name]) for name in ("says", "figure", "limit", "remedy")]
    return DocumentRow(tuple(cells), "not_to_code" if failed else "info_needed", tuple(under))


def _open_deficiencies(job: Job) -> Iterator[Deficiency]:
    yield from job.deficiencies.filter(corrected_at=None).select_related("area").order_by("due_on")


def _where(deficiency: Deficiency) -> Value:
    area: Value = says.WHOLE_JOB()
    if deficiency.area:
        area = Typed(deficiency.area.name)
    if deficiency.where:
        return says.AREA_WHERE(area=area, where=deficiency.where)
    return area


def _due(deficiency: Deficiency) -> Value:
    if deficiency.due_on:
        return says.on(deficiency.due_on)
    return says.NO_DATE()


def _deficiencies(asked: _Asked) -> Document:
    """Everything that was written up, with what became of it and the photographs."""
    found = asked.job.deficiencies.select_related("area").order_by("called_at", "id")
    sections, still = [], 0
    for number, each in enumerate(found.prefetch_related("photographs"), 1):
        still += each.accepted_at is None
        sections.append(_written_up(asked.job, number, each))
    told = says.NONE_WRITTEN_UP()
    if sections:
        told = says.COUNT(n=len(sections), open=still)
    verdict = "ok"
    if still:
        verdict = "not_to_code"
    return _document(asked, says.DEFICIENCIES(), verdict, told, sections)


def _written_up(job: Job, number: int, each: Deficiency) -> Section:
    def day(moment: datetime | None) -> Value:
        if moment:
            return says.on(today_at(job, moment))
        return says.NOT_YET()

    rows = (
        DocumentRow((says.WHERE(), _where(each))),
        DocumentRow((says.WRITTEN_UP_ON(), day(each.called_at))),
        DocumentRow((says.DUE(), _due(each))),
        DocumentRow((says.CORRECTED(), day(each.corrected_at))),
        DocumentRow((says.ACCEPTED(), day(each.accepted_at))),
    )
    sources = []
    for part in (each.section, each.rule):
        if part:
            sources.append(part)
    basis = ", ".join(sources)
    pictures = []
    for picture in each.photographs.all():
        moment = says.MOMENTS[picture.moment]()
        caption = says.PICTURE(moment=moment, day=day(picture.recorded_at))
        pictures.append(PhotographBlock(picture.file.read(), caption))
    notes = ()
    if basis:
        notes = (Typed(basis),)
    return Section(Typed(f"{number}. {each.what}"), (), rows, (0.2, 0.8), notes, tuple(pictures))


def _take_off(asked: _Asked) -> Document:
    """What the recorded house takes of boxes, cable, devices and breakers, by area."""
    stuff = house_stuff(asked.revision.house)
    names = {}
    for area in asked.job.areas.all():
        names[area.code] = area.name
    sections = []
    for code, area in stuff.areas.items():
        if rows := tuple(_area_rows(area)):
            title = Typed(names.get(code, code))
            sections.append(Section(title, _take_off_columns(), rows, (0.2, 0.6, 0.2)))
    sections.append(_panel_section(stuff))
    missing = sum(sum(area.unmeasured.values()) for area in stuff.areas.values())
    told, verdict = says.COUNTED(), "ok"
    if missing:
        told, verdict = says.NO_LENGTHS(n=missing), "info_needed"
    return _document(asked, says.TAKE_OFF(), verdict, told, sections)


def _take_off_columns() -> tuple[Text, ...]:
    return says.KIND(), says.WHAT(), says.HOW_MUCH()


def _area_rows(area: AreaStuff) -> Iterator[DocumentRow]:
    for name, count in by_name(area.boxes):
        yield DocumentRow((says.BOX(), name, count))
    for name, metres in by_name(area.cable_m):
        yield DocumentRow((says.CABLE(), name, CableRun(metres)))
    for name, count in by_name(area.unmeasured):
        missing = says.CABLE_NO_LENGTH(cable=name)
        yield DocumentRow((says.CABLE(), missing, says.RUNS(n=count)), "info_needed")
    if area.braces:
        yield DocumentRow((says.BRACE(), says.BEYOND_FIRST(), area.braces))
    listed = (
        (says.DEVICE, area.devices),
        (says.FIXTURE, area.hung),
        (says.PLATE, area.plates),
    )
    for kind, things in listed:
        for name, count in by_name(things):
            yield DocumentRow((kind(), name, count))
    for name in area.appliances:
        yield DocumentRow((says.CONNECTION(), Typed(name), 1))


def _panel_section(stuff: HouseStuff) -> Section:
    rows = []
    for name, n in by_name(stuff.breakers):
        rows.append(DocumentRow((says.BREAKER(), name, n)))
    return Section(says.PANEL(), _take_off_columns(), tuple(rows), (0.2, 0.6, 0.2))
