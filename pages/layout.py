"""Reads put in the order that a page shows them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from uuid import UUID

from inspections.age import Sign
from inspections.covering import Start
from inspections.holds import Standing
from inspections.models import CONCEALING, Clearance, Happening, Inspection, InspectionEvent
from inspections.selectors import ChecklistLine, CoverRows, cover_of, cover_rows
from inspections.signs import area_sign
from inspections.visits import visit_state
from jobs.models import Area, Job


@dataclass(frozen=True, slots=True)
class RoomSection:
    """The lines of one room: what is still to do, and what has passed."""

    name: str
    to_do: Sequence[ChecklistLine]
    passed: Sequence[ChecklistLine]


@dataclass(frozen=True, slots=True)
class AreaSection:
    """An area with its clearance, if any, and its rooms."""

    area: Area
    clearance: Clearance | None
    rooms: Sequence[RoomSection]


@dataclass(frozen=True, slots=True)
class CoverLine:
    """An area as a contractor sees it: which layers of the cover may start."""

    area: Area
    sign: Sign
    starts: Sequence[Start]


def cover_lines(job: Job) -> list[CoverLine]:
    """The areas of a job, each with what may be put over it."""
    return lines_of(job, cover_rows(job))


def lines_of(job: Job, rows: CoverRows) -> list[CoverLine]:
    """The same from rows that were read."""
    return [CoverLine(area, area_sign(area), starts) for area, starts in cover_of(job, rows)]


@dataclass(frozen=True, slots=True)
class VisitLine:
    """A visit with where it stands, and what may be recorded of it now."""

    visit: Inspection
    state: str
    window: InspectionEvent | None
    answered: bool
    areas: Sequence[Area]
    """The areas in which something may be called at it."""


def visit_lines(job: Job, visits: Iterable[Inspection]) -> list[VisitLine]:
    """The visits of a job, the latest first."""
    lines, everywhere = [], list(job.areas.all())
    for visit in visits:
        events = list(visit.events.all())
        window = next((event for event in reversed(events) if event.starts_at), None)
        last = events[-1].happening if events else ""
        ended = last in (Happening.HELD, Happening.CANCELLED)
        areas = list(visit.areas.all()) if visit.kind in CONCEALING else everywhere
        lines.append(VisitLine(visit, visit_state(visit), window, ended, areas))
    return lines[::-1]


def by_area(
    job: Job, lines: Sequence[ChecklistLine], clearances: dict[UUID, Clearance]
) -> list[AreaSection]:
    """The checklist parted by area and room, in walking order."""
    return [
        AreaSection(
            area,
            clearances.get(area.id),
            by_room([line for line in lines if line.item.area_id == area.id]),
        )
        for area in job.areas.all()
    ]


def by_room(lines: Sequence[ChecklistLine]) -> list[RoomSection]:
    """The lines of a checklist parted by room, in the order they come."""
    groups = groupby(lines, lambda line: line.item.finding["where"].split(", ")[1])
    return [_room(name, list(group)) for name, group in groups]


def _room(name: str, lines: list[ChecklistLine]) -> RoomSection:
    return RoomSection(
        name,
        [line for line in lines if line.standing is not Standing.PASSED],
        [line for line in lines if line.standing is Standing.PASSED],
    )
