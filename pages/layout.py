"""Reads put in the order that a page shows them."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from uuid import UUID

from inspections.holds import Standing
from inspections.models import Clearance
from inspections.selectors import ChecklistLine
from jobs.models import Area, Job


@dataclass(frozen=True, slots=True)
class RoomSection:
    """The lines of one room, what is still to do first in sight."""

    name: str
    lines: Sequence[ChecklistLine]

    @property
    def open(self) -> int:
        """How many lines still need something."""
        return sum(line.standing is not Standing.PASSED for line in self.lines)


@dataclass(frozen=True, slots=True)
class AreaSection:
    """An area with its clearance, if any, and its rooms."""

    area: Area
    clearance: Clearance | None
    rooms: Sequence[RoomSection]


def by_area(
    job: Job, lines: Sequence[ChecklistLine], clearances: dict[UUID, Clearance]
) -> list[AreaSection]:
    """The checklist parted by area and room, in walking order."""
    return [
        AreaSection(
            area,
            clearances.get(area.id),
            _rooms([line for line in lines if line.item.area_id == area.id]),
        )
        for area in job.areas.all()
    ]


def _rooms(lines: list[ChecklistLine]) -> list[RoomSection]:
    groups = groupby(lines, lambda line: line.item.finding["where"].split(", ")[1])
    return [RoomSection(name, list(group)) for name, group in groups]
