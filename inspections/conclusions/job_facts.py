"""The facts of some jobs as they stand now: each kind is read once, for all of them together.

Holds, stages and notices of one settling are drawn from the same ground. It is read within the
transaction that locked the areas, and after whatever was written in it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from itertools import groupby
from operator import attrgetter
from typing import Any, TypeVar
from uuid import UUID

from django.db.models import Count, Exists, Max, Min, OuterRef

from inspections.conclusions.items import STANDING_COLUMNS, ItemRow, items_with_seen, standing_of
from inspections.models import (
    Acceptance,
    AreaStanding,
    CoverRelease,
    Deficiency,
    Happening,
    HouseRevision,
    InspectionEvent,
    Item,
    MilestoneReached,
    Photograph,
    TradeReport,
)
from inspections.standing.holds import Standing, waits_to_be_confirmed
from inspections.standing.stages import Milestone
from jobs.models import Area, Authority, Job, Permit, Person, Shop
from jobs.prepared_queries import Prepared

T = TypeVar("T")
Span = tuple[datetime, datetime]


def _items(stage: Item.Stage, within: str, column: str) -> Prepared[tuple[Any, ...]]:
    def build(ids: list[UUID]) -> Any:
        items = Item.objects.filter(**{within: ids}, current=True, stage=stage, found_later=False)
        columns = (column, "rule", "subject", "fingerprint", *STANDING_COLUMNS)
        return items_with_seen(items).order_by("rule", "subject", "id").values_list(*columns)

    return Prepared(build)


_ROUGH_IN = _items(Item.Stage.ROUGH_IN, "area__in", "area_id")
_FINISH = _items(Item.Stage.FINISH, "job__in", "job_id")
_JOBS: Prepared[Job] = Prepared(
    lambda jobs: Job.objects.filter(id__in=jobs).select_related("permit", "standing")
)
_SHOPS: Prepared[Shop] = Prepared(lambda shops: Shop.objects.filter(id__in=shops))
_AUTHORITIES: Prepared[Authority] = Prepared(
    lambda authorities: Authority.objects.filter(id__in=authorities)
)
_LEADS: Prepared[Person] = Prepared(lambda people: Person.objects.filter(id__in=people))
_AREAS: Prepared[Area] = Prepared(
    lambda jobs: Area.objects.filter(job__in=jobs).select_related("standing").order_by("id")
)
_STANDINGS: Prepared[AreaStanding] = Prepared(
    lambda areas: AreaStanding.objects.filter(area__in=areas)
)
_PERMITS: Prepared[Permit] = Prepared(lambda jobs: Permit.objects.filter(job__in=jobs))
_HELD: Prepared[tuple[UUID, datetime]] = Prepared(
    lambda jobs: (
        InspectionEvent.objects.filter(inspection__job__in=jobs, happening=Happening.HELD)
        .order_by()
        .values_list("inspection__job")
        .annotate(Max("recorded_at"))
    )
)
_REVISIONS: Prepared[tuple[UUID, datetime, datetime]] = Prepared(
    lambda jobs: (
        HouseRevision.objects.filter(job__in=jobs)
        .order_by()
        .values_list("job")
        .annotate(Min("recorded_at"), Max("recorded_at"))
    )
)
_MILESTONES: Prepared[MilestoneReached] = Prepared(
    lambda jobs: MilestoneReached.objects.filter(job__in=jobs)
)
_ACCEPTANCES: Prepared[Acceptance] = Prepared(
    lambda areas: Acceptance.objects.filter(area__in=areas).order_by("recorded_at", "id")
)
_COVER_RELEASES: Prepared[CoverRelease] = Prepared(
    lambda areas: (
        CoverRelease.objects.filter(area__in=areas)
        .select_related("withdrawal_answer")
        .order_by("issued_at", "id")
    )
)
_DEFICIENCIES: Prepared[Deficiency] = Prepared(
    lambda areas: Deficiency.objects.filter(area__in=areas).order_by("called_at", "id")
)
_TRADES: Prepared[tuple[UUID, str, bool]] = Prepared(
    lambda jobs: (
        TradeReport.objects.filter(job__in=jobs, area=None)
        .order_by("recorded_at", "id")
        .values_list("job", "trade", "done")
    )
)


@dataclass
class JobRows:
    """Jobs with their shops and authorities, some or all of their areas, and what is recorded."""

    jobs: dict[UUID, Job]
    areas: Sequence[Area]
    area_ids: list[UUID] = field(init=False)

    def __post_init__(self) -> None:
        self.area_ids = [area.id for area in self.areas]
        self._named = {area.id: area for area in self.areas}

    @classmethod
    def under(cls, areas: Sequence[Area]) -> "JobRows":
        """Of areas that were read with their jobs."""
        by_job_id = {}
        for area in areas:
            by_job_id[area.job_id] = area.job
        return cls(by_job_id, areas)

    @classmethod
    def of(cls, job_ids: Sequence[UUID], areas: Sequence[Area] | None = None) -> "JobRows":
        """Of whole jobs: all their areas, with what stands kept of them, when none are given."""
        jobs = _jobs(job_ids)
        if areas is None:
            areas = _AREAS(job_ids)
        for area in areas:
            area.job = jobs[area.job_id]
        ground = cls(jobs, areas)
        ground.permits = {job.id: job.permit for job in jobs.values() if hasattr(job, "permit")}
        return ground

    def areas_of(self, job_id: UUID) -> list[Area]:
        """The areas of one of the jobs, in order of id."""
        return self._areas_by_job.get(job_id, [])

    @cached_property
    def _areas_by_job(self) -> dict[UUID, list[Area]]:
        return by(self.areas, "job_id")

    @cached_property
    def standings(self) -> dict[UUID, AreaStanding]:
        """The copies of what followed for the areas before."""
        by_area_id: dict[UUID, AreaStanding] = {}
        for each in _STANDINGS(self.area_ids):
            by_area_id[each.area_id] = each
        return by_area_id

    @cached_property
    def permits(self) -> dict[UUID, Permit]:
        """By job."""
        by_job_id: dict[UUID, Permit] = {}
        for permit in _PERMITS(self.jobs):
            by_job_id[permit.job_id] = permit
        return by_job_id

    @cached_property
    def held(self) -> dict[UUID, datetime]:
        """When an inspection was last held, by job, where the permit ends without inspections."""
        idle = []
        for job in self.jobs.values():
            if job.authority.idle_days is not None:
                idle.append(job.id)
        return dict(_HELD(idle))

    @cached_property
    def revisions(self) -> dict[UUID, Span]:
        """When the first and the last house were recorded, by job."""
        by_job: dict[UUID, Span] = {}
        for job, first, last in _REVISIONS(self.jobs):
            by_job[job] = (first, last)
        return by_job

    @cached_property
    def milestones(self) -> dict[UUID, list[MilestoneReached]]:
        """By job."""
        return by(_MILESTONES(self.jobs), "job_id")

    @cached_property
    def hooked_up(self) -> frozenset[UUID]:
        """The jobs whose hookup, or final, is on record."""
        after = {Milestone.HOOKUP, Milestone.FINAL}
        reached = self.milestones.items()
        jobs = []
        for job, each in reached:
            if after & {one.milestone for one in each}:
                jobs.append(job)
        return frozenset(jobs)

    @cached_property
    def finish_open(self) -> dict[UUID, int]:
        """How many items of the finish have not passed, by job, of those that are hooked up."""
        return finish_open(self.hooked_up)

    @cached_property
    def items(self) -> dict[UUID, list[ItemRow]]:
        """The current rough-in items by area, by rule and subject."""
        by_area: dict[UUID, list[ItemRow]] = {}
        for area in self.area_ids:
            by_area[area] = []
        for area, rule, subject, fingerprint, *columns in _ROUGH_IN(self.area_ids):
            standing, to_confirm = standing_of(*columns), waits_to_be_confirmed(*columns)
            by_area[area].append(ItemRow(rule, subject, fingerprint, standing, to_confirm))
        return by_area

    @cached_property
    def acceptances(self) -> dict[UUID, list[Acceptance]]:
        """What the authority answered for the areas, by area, the earliest first."""
        return by(self._with_area(_ACCEPTANCES(self.area_ids)), "area_id")

    @cached_property
    def cover_releases(self) -> dict[UUID, list[CoverRelease]]:
        """Live and withdrawn, by area, the earliest first."""
        return by(self._with_area(_COVER_RELEASES(self.area_ids)), "area_id")

    @cached_property
    def deficiencies(self) -> dict[UUID, list[Deficiency]]:
        """Open and accepted, by area, the earliest first."""
        return by(self._with_area(_DEFICIENCIES(self.area_ids)), "area_id")

    @cached_property
    def trades_done(self) -> dict[UUID, dict[str, bool]]:
        """Whether each trade last reported its rough-in done, by job, where the shop asks it."""
        asked = []
        for job in self.jobs.values():
            if job.shop.trades:
                asked.append(job.id)
        found: dict[UUID, dict[str, bool]] = {}
        for job, trade, done in _TRADES(asked):
            found.setdefault(job, {})[trade] = done
        return found

    @cached_property
    def photographs_missing(self) -> dict[UUID, int]:
        """How many items of the rules that the shop chose lack a photograph, by area."""
        found: dict[UUID, int] = {}
        for rules, jobs in _by_rules(self.jobs.values()):
            areas = []
            for job in jobs:
                for area in self.areas_of(job.id):
                    areas.append(area.id)
            found |= _photographs_missing(areas, rules)
        return found

    def _with_area(self, rows: list[T]) -> list[T]:
        for row in rows:
            # Every kind of row that comes here is of an area.
            row.area = self._named[row.area_id]  # type: ignore[attr-defined]
        return rows


def _jobs(job_ids: Sequence[UUID]) -> dict[UUID, Job]:
    """Jobs with their shops, authorities and leads, of which many jobs have the same."""
    jobs = _JOBS(job_ids)
    shops = {}
    for shop in _SHOPS({job.shop_id for job in jobs}):
        shops[shop.id] = shop
    authorities = {}
    for each in _AUTHORITIES({job.authority_id for job in jobs}):
        authorities[each.id] = each
    leads = {}
    for each in _LEADS({job.crew_lead_id for job in jobs} - {None}):
        leads[each.id] = each
    for job in jobs:
        job.shop, job.authority = shops[job.shop_id], authorities[job.authority_id]
        if job.crew_lead_id is not None:
            job.crew_lead = leads[job.crew_lead_id]
    by_id: dict[UUID, Job] = {}
    for job in jobs:
        by_id[job.id] = job
    return by_id


def by(rows: Iterable[T], name: str) -> dict[Any, list[T]]:
    """The rows by what one of their attributes says, in the order they come."""
    found: dict[Any, list[T]] = {}
    of = attrgetter(name)
    for row in rows:
        found.setdefault(of(row), []).append(row)
    return found


def finish_open(job_ids: Iterable[UUID]) -> dict[UUID, int]:
    """How many items of the finish have not passed, by job; a job without any is left out."""
    found: dict[UUID, int] = {}
    for job, _rule, _subject, _fingerprint, *columns in _FINISH(list(job_ids)):
        found[job] = found.get(job, 0) + (standing_of(*columns) is not Standing.OK)
    return found


def _by_rules(jobs: Iterable[Job]) -> Iterable[tuple[list[str], list[Job]]]:
    with_rules = []
    for job in jobs:
        if job.shop.photo_rules:
            with_rules.append(job)
    asking = sorted(with_rules, key=lambda job: job.shop_id)
    for _, group in groupby(asking, key=lambda job: job.shop_id):
        mine = list(group)
        yield mine[0].shop.photo_rules, mine


def _photographs_missing(areas: list[UUID], rules: list[str]) -> dict[UUID, int]:
    """Items of the rules without a photograph of their facts as now, counted by area."""
    taken = Photograph.objects.filter(item=OuterRef("pk"), fingerprint=OuterRef("fingerprint"))
    concealed = Item.objects.filter(area__in=areas, current=True, stage=Item.Stage.ROUGH_IN)
    missing = concealed.filter(~Exists(taken), rule__in=rules).order_by().values("area_id")
    return dict(missing.annotate(count=Count("id")).values_list("area_id", "count"))
