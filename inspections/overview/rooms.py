"""The rooms of a job with what can be confirmed in them as drawn, for whoever stands there."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from inspections.conclusions.as_drawn import kept_apart
from inspections.models import Item
from inspections.selectors import ChecklistLine, checklist, latest_revision, room_names
from jobs.models import Job


@dataclass(frozen=True, slots=True)
class RoomToConfirm:
    """A room of an area, and its items that are OK on plan and that nobody on site answered."""

    area: str
    """The code of the area."""
    room: str
    name: str
    lines: Sequence[ChecklistLine] = field(default_factory=list)


def rooms_to_confirm(job: Job, stage: Item.Stage | None = None) -> list[RoomToConfirm]:
    """The rooms of a job with what can be confirmed in one look, in the order a person walks.

    A room where nothing waits for that is left out.
    """
    lines = checklist(job, stage=stage)
    apart = kept_apart([line.item for line in lines], job.shop.photo_rules)
    names = room_names(latest_revision(job))
    rooms: dict[tuple[str, str], list[ChecklistLine]] = {}
    for line in lines:
        if line.item.id not in apart:
            place = (line.item.area.code, str(line.item.finding["room"]))
            rooms.setdefault(place, []).append(line)
    found: list[RoomToConfirm] = []
    for (area, room), waiting in rooms.items():
        found.append(RoomToConfirm(area, room, names.get(room, room), waiting))
    return found
