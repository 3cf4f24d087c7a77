"""The areas of a job as its page shows them: sign, cover release, withdrawals, rooms."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from inspections.models import CoverRelease
from inspections.selectors import (
    ChecklistLine,
    areas_ever_released,
    withdrawals_answered,
    withdrawals_unanswered,
)
from jobs.models import Area, Job
from pages.jobs.room_rows import RoomRow, Rooms


@dataclass(frozen=True, slots=True)
class AreaSection:
    """An area with its cover release, if any, and its rooms."""

    area: Area
    cover_release: CoverRelease | None
    rooms: Sequence[RoomRow]
    withdrawals: Sequence[CoverRelease] = ()
    """Those by hand that nobody has answered."""
    withdrawn: bool = False
    """Whether it was released before, and is not now."""
    answered: CoverRelease | None = None
    """The withdrawal by hand that it waits behind, once that is answered."""


def by_area(
    job: Job, lines: Sequence[ChecklistLine], rooms: Rooms, releases: Mapping[UUID, CoverRelease]
) -> list[AreaSection]:
    """The checklist parted by area and room, in walking order."""
    waiting, ever = withdrawals_unanswered(job), areas_ever_released(job)
    answered = withdrawals_answered(job)
    sections: list[AreaSection] = []
    for area in job.areas.all():
        found = []
        for line in lines:
            if line.item.area_id == area.id:
                found.append(line)
        sections.append(
            AreaSection(
                area,
                releases.get(area.id),
                rooms.rows(found),
                waiting.get(area.id, ()),
                area.id in ever and area.id not in releases,
                answered.get(area.id),
            )
        )
    return sections
