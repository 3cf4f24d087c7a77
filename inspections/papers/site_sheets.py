"""Sheets of a job: what to correct, what was called, what it takes, what the owner keeps."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from itertools import groupby

from config.languages import say
from config.languages.own_words import Typed
from config.messages.values import CableRun
from inspections.conclusions.areas import today_at
from inspections.houses.take_off import AreaStuff, HouseStuff, by_name, house_stuff
from inspections.models import Deficiency, HouseRevision
from inspections.papers.documents import title_block
from inspections.papers.handover import handover_sheet
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.document import Document, DocumentRow, PhotographBlock, Section
from inspections.papers.sheets.tables import document_pdf
from inspections.selectors import ChecklistLine, checklist, house_of, room_names
from inspections.standing.holds import Standing
from jobs.models import Job

OPEN = (Standing.FAILING, Standing.UNKNOWN)


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
    asked: _Asked, name: str, verdict: str, says: str, sections: Sequence[Section]
) -> Document:
    _, rulebook = house_of(asked.revision)
    return Document(
        name, asked.job.name, rulebook.title, verdict, says, tuple(sections), (CAUTION,)
    )


def _corrections(asked: _Asked) -> Document:
    """What fails and what nobody recorded, by area and room, with the figure and the remedy."""
    lines = []
    for line in checklist(asked.job):
        if line.standing in OPEN:
            lines.append(line)
    called = list(_open_deficiencies(asked.job))
    sections = list(_by_area(asked, lines))
    if called:
        rows = []
        for each in called:
            rows.append(DocumentRow((Typed(each.what), _where(each), _due(each)), "short"))
        columns = ("called by the inspector", "where", "due")
        sections.insert(0, Section("Deficiencies", columns, tuple(rows), (0.52, 0.32, 0.16)))
    count = len(lines) + len(called)
    says = "Nothing is to be mended."
    if count:
        says = f"{count} to mend or to record."
    return _document(asked, "Mending list", "short" if count else "meets", says, sections)


def _by_area(asked: _Asked, lines: Sequence[ChecklistLine]) -> Iterator[Section]:
    rooms = room_names(asked.revision)
    for area in asked.job.areas.order_by("id"):
        mine = []
        for line in lines:
            if line.item.area_id == area.id:
                mine.append(line)
        for room, group in groupby(mine, key=lambda line: str(line.item.finding["room"])):
            rows = tuple(map(_correction_row, group))
            columns = ("what", "figure", "limit", "remedy")
            yield Section(
                f"{area.name}: {rooms.get(room, room)}", columns, rows, (0.3, 0.16, 0.2, 0.34)
            )


def _correction_row(line: ChecklistLine) -> DocumentRow:
    finding = line.item.finding
    failed = line.standing is Standing.FAILING
    seen = None
    if line.latest and not line.changed_since:
        seen = line.latest
    under = [say(finding["where"])]
    if seen and seen.note:
        under.append(Typed(f"{seen.seen_by}: {seen.note}"))
    cells = [say(finding[name]) for name in ("says", "figure", "limit", "remedy")]
    return DocumentRow(tuple(cells), "short" if failed else "unknown", tuple(under))


def _open_deficiencies(job: Job) -> Iterator[Deficiency]:
    yield from job.deficiencies.filter(corrected_at=None).select_related("area").order_by("due_on")


def _where(deficiency: Deficiency) -> str:
    area = "the whole job"
    if deficiency.area:
        area = deficiency.area.name
    if deficiency.where:
        return f"{area}, {deficiency.where}"
    return area


def _due(deficiency: Deficiency) -> str:
    if deficiency.due_on:
        return deficiency.due_on.isoformat()
    return "no date"


def _deficiencies(asked: _Asked) -> Document:
    """Everything that was called, with what became of it and the photographs."""
    found = asked.job.deficiencies.select_related("area").order_by("called_at", "id")
    sections, still = [], 0
    for number, each in enumerate(found.prefetch_related("photographs"), 1):
        still += each.accepted_at is None
        sections.append(_called(asked.job, number, each))
    says = "Nothing was called."
    if sections:
        says = f"{len(sections)} called, {still} not accepted yet."
    verdict = "meets"
    if still:
        verdict = "short"
    return _document(asked, "Deficiency list", verdict, says, sections)


def _called(job: Job, number: int, each: Deficiency) -> Section:
    def day(moment: datetime | None) -> str:
        if moment:
            return today_at(job, moment).isoformat()
        return "not yet"

    rows = (
        DocumentRow(("where", _where(each))),
        DocumentRow(("called", day(each.called_at))),
        DocumentRow(("due", _due(each))),
        DocumentRow(("mended", day(each.corrected_at))),
        DocumentRow(("accepted", day(each.accepted_at))),
    )
    sources = []
    for part in (each.section, each.rule):
        if part:
            sources.append(part)
    basis = ", ".join(sources)
    pictures = []
    for picture in each.photographs.all():
        pictures.append(
            PhotographBlock(
                picture.file.read(), f"{picture.get_moment_display()}, {day(picture.recorded_at)}"
            )
        )
    notes = ()
    if basis:
        notes = (basis,)
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
            sections.append(
                Section(names.get(code, code), ("kind", "what", "how much"), rows, (0.2, 0.6, 0.2))
            )
    sections.append(_panel_section(stuff))
    missing = sum(sum(area.unmeasured.values()) for area in stuff.areas.values())
    says = "Counted off the recorded house."
    if missing:
        says = f"{missing} cable runs have no length on record, and are not in the metres."
    return _document(asked, "Take-off", "unknown" if missing else "meets", says, sections)


def _area_rows(area: AreaStuff) -> Iterator[DocumentRow]:
    for name, count in by_name(area.boxes):
        yield DocumentRow(("box", say(name), str(count)))
    for name, metres in by_name(area.cable_m):
        yield DocumentRow(("cable", say(name), say(CableRun(metres))))
    for name, count in by_name(area.unmeasured):
        yield DocumentRow(
            ("cable", f"{say(name)}, length not recorded", f"{count} runs"), "unknown"
        )
    if area.braces:
        yield DocumentRow(("brace", "fixing beyond the first member", str(area.braces)))
    for kind, things in (("device", area.devices), ("fixture", area.hung), ("plate", area.plates)):
        for name, count in by_name(things):
            yield DocumentRow((kind, say(name), str(count)))
    for name in area.appliances:
        yield DocumentRow(("connection", name, "1"))


def _panel_section(stuff: HouseStuff) -> Section:
    rows = []
    for name, n in by_name(stuff.breakers):
        rows.append(DocumentRow(("breaker", say(name), str(n))))
    return Section("Panel", ("kind", "what", "how much"), tuple(rows), (0.2, 0.6, 0.2))
