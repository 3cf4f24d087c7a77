"""Which layers of an area's cover may start, and what the rest wait for."""

from datetime import datetime
from typing import TYPE_CHECKING, TypedDict
from uuid import UUID

from django.db.models import OuterRef, Subquery

from inspections.conclusions.signs import area_sign
from inspections.models import CoverRelease, TradeReport
from inspections.standing.cover_layers import Start, starts
from jobs.models import Area, Job

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Withdrawn(TypedDict):
        withdrawn_at: datetime | None

    WithdrawnArea = WithAnnotations[Area, _Withdrawn]


def _covered_areas(job: Job) -> list["WithdrawnArea"]:
    """The areas of a job; each tells as `withdrawn_at` when its last release was withdrawn."""
    latest = CoverRelease.objects.filter(area=OuterRef("pk")).order_by("-issued_at", "-id")
    areas = Area.objects.filter(job=job).select_related("standing").order_by("id")
    return list(areas.annotate(withdrawn_at=Subquery(latest.values("withdrawn_at")[:1])))


def withdrawn_moments(job: Job) -> dict[UUID, datetime]:
    """When the last cover release of an area was withdrawn, of those that had one and have none."""
    by_id: dict[UUID, datetime] = {}
    for area in _covered_areas(job):
        if area.withdrawn_at is not None:
            by_id[area.id] = area.withdrawn_at
    return by_id


def cover_of(job: Job) -> list[tuple[Area, list[Start]]]:
    """Each area with the layers of its cover: which may start, and what the rest wait for.

    Each area tells as `withdrawn_at` when its last release was withdrawn, if that is not live.
    """
    done: dict[UUID, dict[str, bool]] = {}
    reports = TradeReport.objects.filter(job=job, area__isnull=False).order_by("recorded_at", "id")
    for area_id, trade, said in reports.values_list("area", "trade", "done"):
        done.setdefault(area_id, {})[trade] = said
    cover: list[tuple[Area, list[Start]]] = []
    for area in _covered_areas(job):
        area.job = job
        cover.append((area, starts(job.shop.layers, area_sign(area), done.get(area.id, {}))))
    return cover
