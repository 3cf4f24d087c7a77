"""How every fact about a job is changed: areas locked, holds drawn anew, the doorbell rung.

Whatever can bring or lift a hold goes through `changing_facts`. It locks the areas in order
of id, lets the caller write, then draws the holds again and withdraws what may not stand, and
adds to the job's record, all in one transaction; so at no committed moment is there a live
cover release with a hold.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from config.languages import say
from config.messages.message import Joined
from config.messages.stored import to_json
from inspections.conclusions.areas import areas_holds, permit_turns
from inspections.conclusions.job_facts import JobRows
from inspections.models import AreaStanding, CoverRelease, JobStanding
from inspections.record.chain import record_append
from inspections.standing.holds import Hold
from inspections.standing.steps import stored_lifts
from jobs.models import Area, Job, Person
from jobs.prepared_queries import Prepared, PreparedUpdate
from jobs.signals import facts_changed


def _locked(areas: QuerySet[Area]) -> QuerySet[Area]:
    """In order of id; what a row is joined with is as it was before any wait for its lock."""
    locked = areas.select_for_update(no_key=True, of=("self",)).order_by("id")
    return locked.select_related("job__authority", "job__shop")


_SOME_OF: Prepared[Area] = Prepared(
    lambda job, areas: _locked(Area.objects.filter(job=job, id__in=areas))
)
_STANDINGS: Prepared[JobStanding] = Prepared(
    lambda jobs: (
        JobStanding.objects.filter(job__in=jobs).select_for_update(no_key=True).order_by("job_id")
    )
)
_COUNTED = PreparedUpdate(
    JobStanding, "job_id", ("facts", "record_number", "record_chain", "next_at", "drawn_at")
)
_AREAS_OF: Prepared[Area] = Prepared(
    lambda jobs: Area.objects.filter(job__in=jobs).select_for_update(no_key=True).order_by("id")
)


@dataclass
class FactChange:
    """A change being made: the locked areas, and what the record will say of it."""

    areas: list[Area]
    now: datetime
    """Taken while the areas are locked: what is recorded of one area at it is recorded in turn."""
    detail: dict[str, Any] = field(default_factory=dict)
    before: dict[str, Any] = field(default_factory=dict)
    turns: list[datetime] = field(default_factory=list)
    """Moments at which the clock changes what follows from what is written."""

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
) -> Iterator[FactChange]:
    """A transaction in which facts about these areas (all, when not given) may be written."""
    with transaction.atomic():
        areas = lock_areas(job_id, area_ids)
        change = FactChange(areas, now or timezone.now())
        yield change
        ground = JobRows.under(change.areas)
        areas_conclude(change.areas, change.now, ground)
        standing = _note_change(actor, action, job_id, change, change.now)
        if change.areas:
            _redate(standing, ground, change, whole=area_ids is None)
        _COUNTED([standing])


def lock_job(job_id: UUID) -> Job:
    """Lock the job itself, before its areas, where areas may be added or all of it changes."""
    return Job.objects.select_for_update(no_key=True).get(id=job_id)


def lock_areas(job_id: UUID, area_ids: list[UUID] | None = None) -> list[Area]:
    """The areas of a job, locked in order of id."""
    if area_ids is not None:
        return _SOME_OF(job_id, area_ids)
    return list(_locked(Area.objects.filter(job=job_id)))


def lock_areas_of(job_ids: Sequence[UUID]) -> list[Area]:
    """All areas of several jobs, locked in order of id, without their jobs."""
    return _AREAS_OF(job_ids)


def lock_standings(job_ids: Sequence[UUID]) -> list[JobStanding]:
    """The standings of jobs, locked in order of job, after their areas."""
    return _STANDINGS(job_ids)


def areas_conclude(
    areas: Sequence[Area], now: datetime, ground: JobRows | None = None
) -> dict[UUID, AreaStanding]:
    """Draw locked areas' holds from facts, withdraw what may not stand, keep a copy.

    What is kept already, and would be written as it is, is left alone.
    """
    ground = ground or JobRows.under(areas)
    holds_of = areas_holds(areas, now, ground)
    standings = {}
    changed = []
    for area in areas:
        live = _live_cover_release(area, ground)
        holds = holds_of[area.id]
        if live and holds:
            _withdraw(live, holds, now)
        standing = AreaStanding(
            area=area,
            hold_count=len(holds),
            released=bool(live and not holds),
            holds=[_kept(hold) for hold in holds],
        )
        standings[area.id] = standing
        if not _same(standing, ground.standings.get(area.id)):
            changed.append(standing)
    if changed:
        AreaStanding.objects.bulk_create(
            changed,
            update_conflicts=True,
            unique_fields=["area"],
            update_fields=["hold_count", "released", "holds"],
        )
    return standings


def _live_cover_release(area: Area, ground: JobRows) -> CoverRelease | None:
    """The area's cover release that was not withdrawn."""
    for each in ground.cover_releases.get(area.id, ()):
        if each.live:
            return each
    return None


def _withdraw(cover_release: CoverRelease, holds: Sequence[Hold], now: datetime) -> None:
    cover_release.withdrawn_at = now
    says = Joined(tuple(hold.says for hold in holds))
    cover_release.withdrawn_because = say(says, "en")[:500]
    cover_release.withdrawn_holds = to_json(says)
    cover_release.save(update_fields=["withdrawn_at", "withdrawn_because", "withdrawn_holds"])


def _kept(hold: Hold) -> dict[str, Any]:
    return {
        "reason": hold.reason.value,
        "says": to_json(hold.says),
        "lifted_by": stored_lifts(hold.lifted_by),
    }


def _same(standing: AreaStanding, kept: AreaStanding | None) -> bool:
    names = ("hold_count", "released", "holds")
    return kept is not None and all(getattr(standing, n) == getattr(kept, n) for n in names)


def _note_change(
    actor: Person, action: str, job_id: UUID, change: FactChange, now: datetime
) -> JobStanding:
    (standing,) = lock_standings([job_id])
    standing.facts += 1
    record_append(standing, actor, action, change.detail, change.before, now)
    transaction.on_commit(lambda: facts_changed.send(sender=Job, job_id=job_id))
    return standing


def _redate(standing: JobStanding, ground: JobRows, change: FactChange, *, whole: bool) -> None:
    """Until when the holds that were drawn are good by the clock, whether or not a worker lives.

    Where all areas were drawn that is the job's next moment; the settling that follows the change
    finds those of notices. Where some were, it comes no later than it was.
    """
    now = change.now
    permit = permit_turns(ground, ground.jobs[standing.job_id], now)
    ahead = []
    for moment in (permit, *change.turns):
        if moment is not None and moment > now:
            ahead.append(moment)
    turns = min(ahead, default=None)
    if whole:
        standing.drawn_at, standing.next_at = now, turns
    elif turns is not None:
        if standing.next_at is None:
            standing.next_at = turns
        else:
            standing.next_at = min(turns, standing.next_at)
