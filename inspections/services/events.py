"""The next event of an inspection, and what cannot follow from where it is."""

from datetime import datetime

from django.core.exceptions import ValidationError

from config.languages import said_later
from inspections.models import Happening, Inspection, InspectionEvent
from inspections.overview.inspections import inspection_now
from inspections.standing.inspection_states import InspectionState
from jobs.models import Person


class NotNow(ValidationError):
    """What cannot follow from where an inspection stands, or be known yet; the text says why."""


def event_of(
    actor: Person,
    inspection: Inspection,
    happening: Happening,
    now: datetime,
    *,
    reference: str = "",
    note: str = "",
) -> InspectionEvent:
    """The next event of an inspection, not saved yet.

    Raises NotNow for one that cannot be recorded now.
    The inspection is locked, since one that names no area has nothing else that is.
    """
    locked = Inspection.objects.select_for_update(no_key=True).get(id=inspection.id)
    locked.job = inspection.job
    if why_not := inspection_now(locked).why_not(InspectionState(happening), now):
        raise NotNow(said_later(why_not))
    return InspectionEvent(
        inspection=inspection,
        happening=happening,
        reference=reference,
        note=note,
        recorded_by=actor,
        recorded_at=now,
    )
