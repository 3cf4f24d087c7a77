"""Where inspections stand, and when the next could be."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils import timezone

from config.messages.message import Joined, Text, Value
from inspections.models import Inspection, InspectionEvent
from inspections.standing.inspection_messages import NOTE, REFERENCE, WINDOW
from inspections.standing.inspection_states import (
    STATES,
    WINDOWED,
    InspectionNow,
    InspectionState,
)
from jobs.models import Job
from jobs.planning.inspections import Earliest, earliest_inspection


def earliest_inspection_of(job: Job, now: datetime | None = None) -> Earliest:
    """The first window in which the job's authority could come, asked now, with its working.

    Raises NeverOpen when the authority's entry leaves no day on which it would come.
    """
    rules = job.authority.inspection_rules(ZoneInfo(job.time_zone))
    return earliest_inspection(rules, now or timezone.now())


def inspection_now(inspection: Inspection) -> InspectionNow:
    """Where an inspection stands, and its window in the time of the house."""
    zone = ZoneInfo(inspection.job.time_zone)
    events = list(inspection.events.all())
    if not events:
        return InspectionNow(InspectionState.ASKED)
    state = InspectionState(events[-1].happening)
    booked = []
    for each in events:
        if each.happening in WINDOWED and each.starts_at:
            booked.append(each)
    if not booked:
        return InspectionNow(state)
    starts, ends = booked[-1].starts_at, booked[-1].ends_at
    assert starts is not None  # it was asked above
    return InspectionNow(state, starts.astimezone(zone), ends and ends.astimezone(zone))


def inspection_state(inspection: Inspection) -> Text:
    """What last happened to an inspection, as a word or two."""
    return STATES[inspection_now(inspection).state]()


def event_words(event: InspectionEvent, job: Job) -> Value:
    """What happened to an inspection, with its window in the time of the house."""
    zone = ZoneInfo(job.time_zone)
    parts: list[Value] = [STATES[InspectionState(event.happening)]()]
    if event.starts_at and event.ends_at:
        starts, ends = event.starts_at.astimezone(zone), event.ends_at.astimezone(zone)
        parts.append(WINDOW(starts=starts, ends=ends))
    if event.reference:
        parts.append(REFERENCE(reference=event.reference))
    if event.note:
        parts.append(NOTE(note=event.note))
    return Joined(tuple(parts), ", ")
