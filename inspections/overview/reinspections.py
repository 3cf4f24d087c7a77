"""Visits that have to be made again: the last answer was no, and nobody has asked since."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from inspections.conclusions.areas import today_at
from inspections.models import CONCEALING, Answer, Happening, Inspection
from jobs.models import Area, Job


@dataclass(frozen=True, slots=True)
class Reinspection:
    """A visit to ask for again, with what the authority takes for it."""

    visit: Inspection
    """The one that did not end in acceptance."""
    areas: Sequence[Area]
    failed_on: date
    fee: str
    mended: bool
    """Whether everything that was called at it is recorded as mended."""

    @property
    def what(self) -> str:
        """The kind of visit and its areas, as a person would say them."""
        area_names = []
        for area in self.areas:
            area_names.append(area.name)
        kind, names = self.visit.get_kind_display(), ", ".join(area_names)
        if names:
            return f"{kind} ({names})"
        return kind


def reinspections(job: Job, visits: Iterable[Inspection]) -> list[Reinspection]:
    """The visits of a job that have to be asked for again, the earliest failed first.

    `visits` come with their areas, events and answers, in the order they were asked for.
    A visit that was cancelled counts for nothing; a later one for the same area takes the
    place of an earlier one.
    """
    visits = list(visits)
    latest: dict[tuple[str, UUID | None], Inspection] = {}
    for visit in visits:
        if _last(visit) != Happening.CANCELLED:
            for key in _keys(visit):
                latest[key] = visit
    unmended = set(
        job.deficiencies.filter(mended_at__isnull=True).values_list("called_at_visit_id", flat=True)
    )
    found = []
    for visit in visits:
        still = set()
        for key in _keys(visit):
            if latest.get(key) is visit:
                still.add(key)
        if still and _last(visit) == Happening.HELD:
            found += _again(job, visit, still, visit.id not in unmended)
    return found


def _again(
    job: Job, visit: Inspection, still: set[tuple[str, UUID | None]], mended: bool
) -> list[Reinspection]:
    areas = []
    for area in _refused_areas(visit):
        if _key(visit, area.id) in still:
            areas.append(area)
    whole = getattr(visit, "job_answer", None)
    if not areas and not (whole and whole.answer == Answer.NOT_ACCEPTED):
        return []
    held = []
    for event in visit.events.all():
        if event.happening == Happening.HELD:
            held.append(event)
    day = today_at(job, held[-1].recorded_at)
    return [Reinspection(visit, areas, day, job.authority.reinspection_fee, mended)]


def _refused_areas(visit: Inspection) -> list[Area]:
    """The areas of a visit that were not accepted at it."""
    refused = set()
    for said in visit.answers.all():
        if said.answer == Answer.NOT_ACCEPTED:
            refused.add(said.area_id)
    areas: list[Area] = []
    for area in visit.areas.all():
        if area.id in refused:
            areas.append(area)
    return areas


def _last(visit: Inspection) -> str:
    events = list(visit.events.all())
    if events:
        return events[-1].happening
    return ""


def _keys(visit: Inspection) -> list[tuple[str, UUID | None]]:
    """What a visit is for: each of its areas, or the job by its kind."""
    if visit.kind not in CONCEALING:
        return [_key(visit, None)]
    keys: list[tuple[str, UUID | None]] = []
    for area in visit.areas.all():
        keys.append(_key(visit, area.id))
    return keys


def _key(visit: Inspection, area: UUID | None) -> tuple[str, UUID | None]:
    if visit.kind in CONCEALING:
        return ("cover", area)
    return (visit.kind, None)
