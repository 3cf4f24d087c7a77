"""Writes of inspections: asked for, booked, moved, missed."""

from collections.abc import Sequence
from datetime import datetime

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later, say
from config.messages.message import Joined, Text
from inspections.conclusions.areas import areas_holds
from inspections.models import CONCEALING, Happening, Inspection, InspectionEvent, InspectionKind
from inspections.services import refusal_messages as words
from inspections.services.events import event_of
from inspections.services.facts import FactChange, changing_facts
from inspections.standing.holds import ROUGH_IN_REASONS
from inspections.standing.inspection_messages import IN_AREA, ITEMS_OPEN
from inspections.standing.inspection_states import WINDOWED, InspectionState
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside, refuse_window
from jobs.models import Area, Job, Person, Role
from jobs.moments import BOOKABLE


class ItemsOpen(Exception):
    """An inspection is asked for while the crew's own work is not done; it may be insisted on."""

    def __init__(self, undone: Sequence[Text]) -> None:
        self.text = ITEMS_OPEN(undone=Joined(tuple(undone)))
        super().__init__(say(self.text, "en"))


def inspection_ask(
    actor: Person,
    *,
    job: Job,
    kind: InspectionKind,
    areas: Sequence[Area] = (),
    insist: bool = False,
) -> Inspection:
    """Ask the authority for an inspection.

    An inspection that lets areas be covered names them. Raises ItemsOpen while their rough-in is
    not done, unless the person insists, which the record keeps.
    """
    require_role(actor, job.shop, Role.OFFICE)
    now = timezone.now()
    with changing_facts(actor, "inspection asked for", job.id, now=now) as change:
        chosen = _chosen_areas(job, kind, areas, change)
        undone = []
        if kind in CONCEALING:
            undone = _undone(chosen, now)
        if undone and not insist:
            raise ItemsOpen(undone)
        inspection = Inspection(
            job=job, kind=kind, asked_at=now, asked_by=actor, insisted=bool(undone)
        )
        inspection.full_clean()
        inspection.save()
        inspection.areas.set(chosen)
        codes = []
        for area in chosen:
            codes.append(area.code)
        change.detail = {
            "inspection": inspection.id,
            "kind": kind,
            "areas": codes,
            "insisted": bool(undone),
        }
        return inspection


def _chosen_areas(
    job: Job, kind: InspectionKind, areas: Sequence[Area], change: FactChange
) -> list[Area]:
    locked = {}
    for area in change.areas:
        locked[area.id] = area
    if not all(area.id in locked for area in areas):
        raise ValidationError(said_later(words.OTHER_JOBS_AREA()))
    if kind in CONCEALING and not areas:
        raise ValidationError(said_later(words.NO_AREAS()))
    if kind in CONCEALING and not job.authority.takes_parts and len(areas) < len(locked):
        raise ValidationError(said_later(words.NOT_IN_PARTS(authority=str(job.authority))))
    chosen: list[Area] = []
    for area in areas:
        chosen.append(locked[area.id])
    return chosen


def _undone(areas: Sequence[Area], now: datetime) -> list[Text]:
    found = areas_holds(areas, now)
    undone: list[Text] = []
    for area in areas:
        for hold in found[area.id]:
            if hold.reason in ROUGH_IN_REASONS:
                undone.append(IN_AREA(area=area.name, what=hold.says))
    return undone


def inspection_happen(
    actor: Person,
    *,
    inspection: Inspection,
    happening: Happening,
    starts_at: datetime | None = None,
    ends_at: datetime | None = None,
    reference: str = "",
    note: str = "",
) -> InspectionEvent:
    """Record what happened to an inspection, short of its being held.

    A booking or a move carries its window; what cannot follow from where the inspection stands
    is refused.
    """
    require_role(actor, inspection.job.shop, Role.OFFICE)
    happening = Happening(happening)
    if happening == Happening.HELD:
        raise ValidationError(said_later(words.HELD_BY_ANSWERS()))
    _refuse_unfit_window(happening, starts_at, ends_at)
    now = timezone.now()
    refuse_outside(
        now,
        inspection.job.time_zone,
        starts_at=(BOOKABLE, starts_at),
        ends_at=(BOOKABLE, ends_at),
    )
    if starts_at is not None and ends_at is not None:
        refuse_window(starts_at, ends_at)
    with changing_facts(
        actor, f"inspection {happening.label}", inspection.job_id, now=now
    ) as change:
        event = event_of(actor, inspection, happening, now, reference=reference, note=note)
        event.starts_at, event.ends_at = starts_at, ends_at
        event.full_clean()
        event.save()
        change.turns = [moment for moment in (starts_at, ends_at) if moment is not None]
        change.detail = {
            "inspection": inspection.id,
            "starts_at": starts_at,
            "ends_at": ends_at,
            "reference": reference,
            "note": note,
        }
        return event


def _refuse_unfit_window(
    happening: Happening, starts_at: datetime | None, ends_at: datetime | None
) -> None:
    """Raise ValidationError where a window is lacking, and where none belongs."""
    if InspectionState(happening) in WINDOWED:
        if not (starts_at and ends_at):
            raise ValidationError(said_later(words.WINDOW_MISSING()))
    elif starts_at or ends_at:
        raise ValidationError(said_later(words.WINDOW_UNFIT()))
