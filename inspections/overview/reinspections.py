"""Inspections that have to be made again: the last answer was no, and nobody has asked since."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from config.messages.message import Text
from inspections.conclusions.areas import today_at
from inspections.models import CONCEALING, Answer, Happening, Inspection
from inspections.standing.inspection_messages import inspection_kind
from jobs.models import Area, Job


@dataclass(frozen=True, slots=True)
class Reinspection:
    """An inspection to ask for again, with what the authority takes for it."""

    inspection: Inspection
    """The one that did not end in acceptance."""
    areas: Sequence[Area]
    failed_on: date
    fee: str
    corrected: bool
    """Whether everything that was written up at it is recorded as corrected."""

    @property
    def what(self) -> Text:
        """The kind of inspection and its areas, as a person would say them."""
        return inspection_kind(self.inspection.kind, [area.name for area in self.areas])


def reinspections(job: Job, inspections: Iterable[Inspection]) -> list[Reinspection]:
    """The inspections of a job that have to be asked for again, the earliest failed first.

    `inspections` come with their areas, events and answers, in the order they were asked for.
    An inspection that was cancelled counts for nothing; a later one for the same area takes the
    place of an earlier one.
    """
    inspections = list(inspections)
    latest: dict[tuple[str, UUID | None], Inspection] = {}
    for inspection in inspections:
        if _last(inspection) != Happening.CANCELLED:
            for key in _keys(inspection):
                latest[key] = inspection
    uncorrected = set(
        job.deficiencies.filter(corrected_at__isnull=True).values_list(
            "called_at_inspection_id", flat=True
        )
    )
    found = []
    for inspection in inspections:
        still = set()
        for key in _keys(inspection):
            if latest.get(key) is inspection:
                still.add(key)
        if still and _last(inspection) == Happening.HELD:
            found += _again(job, inspection, still, inspection.id not in uncorrected)
    return found


def _again(
    job: Job, inspection: Inspection, still: set[tuple[str, UUID | None]], corrected: bool
) -> list[Reinspection]:
    areas = []
    for area in _refused_areas(inspection):
        if _key(inspection, area.id) in still:
            areas.append(area)
    whole = getattr(inspection, "job_answer", None)
    if not areas and not (whole and whole.answer == Answer.NOT_ACCEPTED):
        return []
    held = []
    for event in inspection.events.all():
        if event.happening == Happening.HELD:
            held.append(event)
    day = today_at(job, held[-1].recorded_at)
    return [Reinspection(inspection, areas, day, job.authority.reinspection_fee, corrected)]


def _refused_areas(inspection: Inspection) -> list[Area]:
    """The areas of an inspection that were not accepted at it."""
    refused = set()
    for said in inspection.answers.all():
        if said.answer == Answer.NOT_ACCEPTED:
            refused.add(said.area_id)
    areas: list[Area] = []
    for area in inspection.areas.all():
        if area.id in refused:
            areas.append(area)
    return areas


def _last(inspection: Inspection) -> str:
    events = list(inspection.events.all())
    if events:
        return events[-1].happening
    return ""


def _keys(inspection: Inspection) -> list[tuple[str, UUID | None]]:
    """What an inspection is for: each of its areas, or the job by its kind."""
    if inspection.kind not in CONCEALING:
        return [_key(inspection, None)]
    keys: list[tuple[str, UUID | None]] = []
    for area in inspection.areas.all():
        keys.append(_key(inspection, area.id))
    return keys


def _key(inspection: Inspection, area: UUID | None) -> tuple[str, UUID | None]:
    if inspection.kind in CONCEALING:
        return ("cover", area)
    return (inspection.kind, None)
