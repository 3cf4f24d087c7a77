"""How every fact about a job is changed: areas locked, holds drawn anew, the doorbell rung.

Whatever can bring or lift a hold goes through `changing_facts`. It locks the areas in order
of id, lets the caller write, then draws the holds again and withdraws what may not stand, and
adds to the job's record, all in one transaction; so at no committed moment is there a live
clearance with a hold.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from inspections.conclusions import areas_holds
from inspections.models import AreaStanding, Clearance, JobStanding
from inspections.record import record_append
from jobs.models import Area, Job, Person
from jobs.signals import facts_changed


@dataclass
class Change:
    """A change being made: the locked areas, and what the record will say of it."""

    areas: list[Area]
    detail: dict[str, Any] = field(default_factory=dict)
    before: dict[str, Any] = field(default_factory=dict)

    @property
    def area(self) -> Area:
        """The one area that was locked."""
        (area,) = self.areas
        return area


@contextmanager
def changing_facts(
    actor: Person,
    action: str,
    job_id: UUID,
    *,
    area_ids: list[UUID] | None = None,
    now: datetime | None = None,
) -> Iterator[Change]:
    """A transaction in which facts about these areas (all, when not given) may be written."""
    now = now or timezone.now()
    with transaction.atomic():
        change = Change(lock_areas(job_id, area_ids))
        yield change
        areas_conclude(change.areas, now)
        _note_change(actor, action, job_id, change, now)


def lock_job(job_id: UUID) -> Job:
    """Lock the job itself, before its areas, where areas may be added or all of it changes."""
    return Job.objects.select_for_update(no_key=True).get(id=job_id)


def lock_areas(job_id: UUID, area_ids: list[UUID] | None = None) -> list[Area]:
    """The areas of a job, locked in order of id."""
    areas = Area.objects.filter(job=job_id)
    if area_ids is not None:
        areas = areas.filter(id__in=area_ids)
    locked = areas.select_for_update(no_key=True, of=("self",)).order_by("id")
    return list(locked.select_related("job__authority", "job__shop"))


def areas_conclude(areas: Sequence[Area], now: datetime) -> list[AreaStanding]:
    """Draw locked areas' holds from facts, withdraw what may not stand, keep a copy."""
    found = areas_holds(areas, now)
    lives = Clearance.objects.filter(area__in=areas, withdrawn_at__isnull=True)
    live = set(lives.values_list("area_id", flat=True))
    for area in areas:
        if area.id in live and found[area.id]:
            because = " ".join(hold.says for hold in found[area.id])[:500]
            lives.filter(area=area).update(withdrawn_at=now, withdrawn_because=because)
    standings = [
        AreaStanding(
            area=area,
            hold_count=len(found[area.id]),
            cleared=area.id in live and not found[area.id],
            holds=[asdict(hold) for hold in found[area.id]],
        )
        for area in areas
    ]
    return AreaStanding.objects.bulk_create(
        standings,
        update_conflicts=True,
        unique_fields=["area"],
        update_fields=["hold_count", "cleared", "holds"],
    )


def _note_change(actor: Person, action: str, job_id: UUID, change: Change, now: datetime) -> None:
    standing = JobStanding.objects.select_for_update(no_key=True).get(job=job_id)
    standing.facts += 1
    record_append(standing, actor, action, change.detail, change.before, now)
    standing.save(update_fields=["facts", "record_number", "record_chain"])
    transaction.on_commit(lambda: facts_changed.send(sender=Job, job_id=job_id))
