"""Which layers of an area's cover may start, and what the rest wait for."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, TypedDict
from uuid import UUID

from django.db.models import OuterRef, Subquery

from inspections.conclusions.signs import area_sign
from inspections.models import Clearance, TradeReport
from inspections.standing.cover_layers import Start, starts
from jobs.models import Area, Job
from jobs.prepared import Prepared, Raw

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Withdrawn(TypedDict):
        withdrawn_at: datetime | None

    WithdrawnArea = WithAnnotations[Area, _Withdrawn]

_COVERED_AREAS: Prepared["WithdrawnArea"] = Prepared(
    lambda job: (
        Area.objects.filter(job=job)
        .select_related("standing")
        .annotate(
            withdrawn_at=Subquery(
                Clearance.objects.filter(area=OuterRef("pk"))
                .order_by("-issued_at", "-id")
                .values("withdrawn_at")[:1]
            )
        )
        .order_by("id")
    )
)
_LAYERS: Prepared[tuple[UUID, str, bool]] = Prepared(
    lambda job: (
        TradeReport.objects.filter(job=job, area__isnull=False)
        .order_by("recorded_at", "id")
        .values_list("area", "trade", "done")
    )
)


@dataclass(frozen=True, slots=True)
class CoverRows:
    """The areas of a job and what was reported of their layers; equal while nothing changed."""

    areas: Raw
    reports: Raw


def cover_rows(job: Job) -> CoverRows:
    """What the cover of a job follows from, as it stands now."""
    return CoverRows(_COVERED_AREAS.raw(job.id), _LAYERS.raw(job.id))


def withdrawn_moments(job: Job) -> dict[UUID, datetime]:
    """When the last clearance of an area was withdrawn, of those that had one and have none."""
    areas = _COVERED_AREAS.made(_COVERED_AREAS.raw(job.id))
    by_id: dict[UUID, datetime] = {}
    for area in areas:
        if area.withdrawn_at is not None:
            by_id[area.id] = area.withdrawn_at
    return by_id


def cover_of(job: Job, rows: CoverRows) -> list[tuple[Area, list[Start]]]:
    """Each area with the layers of its cover: which may start, and what the rest wait for.

    Each area tells as `withdrawn_at` when its last clearance was withdrawn, if that is not live.
    """
    done: dict[UUID, dict[str, bool]] = {}
    for area_id, trade, said in _LAYERS.made(rows.reports):
        done.setdefault(area_id, {})[trade] = said
    cover: list[tuple[Area, list[Start]]] = []
    for area in _COVERED_AREAS.made(rows.areas):
        area.job = job
        cover.append((area, starts(job.shop.layers, area_sign(area), done.get(area.id, {}))))
    return cover


def area_starts(job: Job) -> dict[UUID, list[Start]]:
    """The same by area."""
    by_id: dict[UUID, list[Start]] = {}
    for area, found in cover_of(job, cover_rows(job)):
        by_id[area.id] = found
    return by_id
