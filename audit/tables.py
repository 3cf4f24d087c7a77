"""Reading: the facts of some jobs and the copies kept of them, as rows, at one moment.

Plain queries and nothing else: a row is a named tuple of columns, and no method of a model runs.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import connection, transaction
from django.db.models import Count, F, Max, Q, QuerySet
from django.db.models.fields.json import KT

from audit.times import BEGINNING
from inspections import models as inspections
from jobs import models as jobs

Row = Any
"""A named tuple of the columns that were asked for."""


@dataclass
class JobTables:
    """All that the tables hold of one job that the auditor looks at."""

    job: Row
    zone: ZoneInfo
    permit: Row = None
    areas: list[Row] = field(default_factory=list)
    items: list[Row] = field(default_factory=list)
    """The current ones, by rule and subject in the order of the database."""
    items_by_area: dict[UUID | None, list[Row]] = field(default_factory=dict)
    other_words: list[Row] = field(default_factory=list)
    """Items whose finding says other than their columns."""
    carried: dict[tuple[str, str, str], str] = field(default_factory=dict)
    """The fingerprint that answers belong to, by rule, subject and that of a newer rule."""
    looks: dict[UUID, list[Row]] = field(default_factory=dict)
    """By item: those of its facts as now."""
    photographed: set[UUID] = field(default_factory=set)
    """Items with a photograph of their facts as now."""
    na: int = 0
    """How many answers N/A there are, of whatever facts."""
    strange: list[Row] = field(default_factory=list)
    """Looks of whatever facts whose moments no look can have."""
    acceptances: list[Row] = field(default_factory=list)
    job_answers: list[Row] = field(default_factory=list)
    deficiencies: list[Row] = field(default_factory=list)
    cover_releases: list[Row] = field(default_factory=list)
    reports: list[Row] = field(default_factory=list)
    inspections: list[Row] = field(default_factory=list)
    inspection_areas: list[Row] = field(default_factory=list)
    events: list[Row] = field(default_factory=list)
    milestones: list[Row] = field(default_factory=list)
    revisions: list[Row] = field(default_factory=list)
    house: Row = None
    """The latest revision with its text."""
    insulation: Row = None
    """The last choice."""
    standing: Row = None
    area_standings: dict[UUID, Row] = field(default_factory=dict)
    entries: tuple[int, int] = (0, 0)
    """How many entries its record has, and the number of the last."""

    def of_area(self, rows: Sequence[Row], area_id: UUID) -> list[Row]:
        """Those of the rows that are of an area, in their order."""
        mine: list[Row] = []
        for row in rows:
            if row.area_id == area_id:
                mine.append(row)
        return mine


@contextmanager
def one_moment() -> Iterator[None]:
    """A transaction in which nothing changes beneath; within one that is open, that one."""
    outermost = not connection.in_atomic_block
    with transaction.atomic():
        if outermost and connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield


def read(job_ids: Sequence[UUID]) -> dict[UUID, JobTables]:
    """The tables of these jobs, in the order of their ids."""
    found = {}
    for job in _jobs(job_ids):
        found[job.id] = JobTables(job, ZoneInfo(job.time_zone))
    _read_plan(found)
    _read_items(found)
    _read_answers(found)
    _read_inspections(found)
    _read_copies(found)
    return found


def _rows(query: QuerySet[Any], *columns: str) -> list[Row]:
    return list(query.values_list(*columns, named=True))


def _jobs(job_ids: Sequence[UUID]) -> list[Row]:
    columns = ("id", "name", "time_zone", "shop_id", "builder_id", "crew_lead_id", "drywall_on")
    of_others = ("shop__trades", "shop__photo_rules", "authority__idle_days")
    return _rows(jobs.Job.objects.filter(id__in=job_ids).order_by("id"), *columns, *of_others)


def _each(
    found: dict[UUID, JobTables], rows: list[Row], put: Callable[[JobTables, Row], object]
) -> None:
    for row in rows:
        put(found[row.job_id], row)


def _read_plan(found: dict[UUID, JobTables]) -> None:
    """Permits, areas, revisions, the insulation that was chosen, milestones."""

    def permit(tables: JobTables, row: Row) -> None:
        tables.permit = row

    def house(tables: JobTables, row: Row) -> None:
        tables.house = row

    def insulation(tables: JobTables, row: Row) -> None:
        tables.insulation = row

    days = ("applied_on", "issued_on", "expires_on", "closed_on")
    permits = jobs.Permit.objects.filter(job__in=found)
    _each(found, _rows(permits, "job_id", "id", *days), permit)
    areas = jobs.Area.objects.filter(job__in=found).order_by("id")
    _each(found, _rows(areas, "job_id", "id", "code", "name"), lambda t, row: t.areas.append(row))
    revisions = inspections.HouseRevision.objects.filter(job__in=found).order_by("number")
    columns: tuple[str, ...] = ("job_id", "id", "number", "recorded_at")
    _each(found, _rows(revisions, *columns), lambda t, row: t.revisions.append(row))
    latest = [tables.revisions[-1].id for tables in found.values() if tables.revisions]
    texts = inspections.HouseRevision.objects.filter(id__in=latest)
    _each(found, _rows(texts, "job_id", "house", "rulebook", "amendments", "recorded_at"), house)
    chosen = inspections.InsulationChoice.objects.filter(job__in=found)
    chosen = chosen.order_by("recorded_at", "id")
    _each(found, _rows(chosen, "job_id", "kind", "vapour_barrier"), insulation)
    reached = inspections.MilestoneReached.objects.filter(job__in=found).order_by("id")
    columns = ("job_id", "id", "milestone", "circuits", "live", "temporary_until", "reached_on")
    milestones = _rows(reached, *columns, "recorded_at")
    _each(found, milestones, lambda t, row: t.milestones.append(row))


def _read_items(found: dict[UUID, JobTables]) -> None:
    """Current items, and what was seen and photographed of their facts as now."""
    current = inspections.Item.objects.filter(job__in=found, current=True)
    columns: tuple[str, ...] = (
        "job_id",
        "id",
        "area_id",
        "area__code",
        "rule",
        "subject",
        "stage",
        "position",
    )
    says = ("verdict", "fingerprint", "measure_min_mm", "measure_max_mm")
    marks = ("workmanship", "found_later")
    items = _rows(current.order_by("rule", "subject"), *columns, *says, *marks)
    for item in items:
        tables = found[item.job_id]
        tables.items.append(item)
        if item.found_later:  # by a newer rule, where the wall is released: it holds nothing
            continue
        tables.items_by_area.setdefault(item.area_id, []).append(item)
    carried = inspections.CarriedAnswers.objects.filter(item__job__in=found)
    columns = ("item__job_id", "item__rule", "item__subject", "newer", "fingerprint")
    for each in _rows(carried.order_by("id"), *columns):
        key = (each.item__rule, each.item__subject, each.newer)
        found[each.item__job_id].carried[key] = each.fingerprint
    words = current.annotate(said=KT("finding__verdict"), rests=KT("finding__fingerprint"))
    other = words.exclude(verdict=F("said"), fingerprint=F("rests")).order_by()
    columns = ("job_id", "area__name", "rule", "subject", "verdict", "fingerprint")
    _each(found, _rows(other, *columns, "said", "rests"), lambda t, row: t.other_words.append(row))
    of_now = {"item__in": current, "fingerprint": F("item__fingerprint")}
    seen = inspections.Observation.objects.filter(**of_now, stale=False)
    moments = ("seen_at", "recorded_at", "known_at")
    looks = _rows(seen, "item_id", "outcome", "measured_mm", *moments)
    by_item = defaultdict(list)
    for look in looks:
        by_item[look.item_id].append(look)
    all_looks = inspections.Observation.objects.filter(item__job__in=found)
    strange = all_looks.filter(Q(seen_at__lt=BEGINNING) | Q(seen_at__gt=F("recorded_at")))
    for job_id in all_looks.filter(outcome="na").values_list("item__job_id", flat=True):
        found[job_id].na += 1
    for look in _rows(
        strange.order_by(), "item__job_id", "item__area_id", "seen_at", "recorded_at"
    ):
        found[look.item__job_id].strange.append(look)
    taken = inspections.Photograph.objects.filter(**of_now)
    photographed = set(taken.values_list("item_id", flat=True))
    for tables in found.values():
        for item in tables.items:
            tables.looks[item.id] = by_item[item.id]
            if item.id in photographed:
                tables.photographed.add(item.id)


def _read_answers(found: dict[UUID, JobTables]) -> None:
    """What the authority and other trades said of the areas, and cover releases."""

    def of(model: Any, path: str, order: str, *columns: str) -> list[Row]:
        rows = model.objects.filter(**{f"{path}__in": found}).annotate(of_job=F(path))
        return _rows(rows.order_by(order, "id"), "of_job", "id", *columns)

    said = of(
        *(inspections.Acceptance, "area__job", "recorded_at"),
        *("area_id", "inspection_id", "basis", "answer", "reference", "rests_on", "recorded_at"),
    )
    called = of(
        *(
            inspections.Deficiency,
            "job",
            "called_at",
            "area_id",
            "called_at_inspection_id",
            "due_on",
        ),
        *("called_at", "corrected_at", "accepted_at"),
    )
    released = of(
        *(inspections.CoverRelease, "area__job", "issued_at", "area_id", "acceptance_id"),
        *("reference", "issued_at", "withdrawn_at", "withdrawn_by_id"),
        *("withdrawal_answer__id", "withdrawal_answer__inspect_again"),
    )
    answers = of(
        *(inspections.JobAnswer, "inspection__job", "recorded_at"),
        *("inspection_id", "answer", "recorded_at"),
    )
    reports = of(inspections.TradeReport, "job", "recorded_at", "area_id", "trade", "done")
    for name, rows in (
        ("acceptances", said),
        ("deficiencies", called),
        ("cover_releases", released),
        ("job_answers", answers),
        ("reports", reports),
    ):
        for row in rows:
            getattr(found[row.of_job], name).append(row)


def _read_inspections(found: dict[UUID, JobTables]) -> None:
    """Inspections, the areas that each is for, and what happened to it."""
    asked = inspections.Inspection.objects.filter(job__in=found).order_by("asked_at", "id")
    rows = _rows(asked, "job_id", "id", "kind", "asked_at")
    job_of = {}
    for row in rows:
        job_of[row.id] = row.job_id
    _each(found, rows, lambda t, row: t.inspections.append(row))
    places = inspections.Inspection.areas.through.objects.filter(inspection__in=job_of)
    for row in _rows(places.order_by("id"), "inspection_id", "area_id"):
        found[job_of[row.inspection_id]].inspection_areas.append(row)
    events = inspections.InspectionEvent.objects.filter(inspection__in=job_of)
    columns = ("inspection_id", "id", "happening", "starts_at", "ends_at", "recorded_at")
    for row in _rows(events.order_by("recorded_at", "id"), *columns):
        found[job_of[row.inspection_id]].events.append(row)


def _read_copies(found: dict[UUID, JobTables]) -> None:
    """The copies of conclusions, and how long the record is said to be and is."""
    columns = ("job_id", "facts", "settled", "next_at", "stage", "drawn_at", "set_aside_at")
    record = ("set_aside_because", "try_at", "record_number", "record_chain")
    standings = inspections.JobStanding.objects.filter(job__in=found)
    for row in _rows(standings, *columns, *record):
        found[row.job_id].standing = row
    copies = inspections.AreaStanding.objects.filter(area__job__in=found)
    copies = copies.annotate(of_job=F("area__job"))
    for row in _rows(copies, "of_job", "area_id", "hold_count", "released", "holds"):
        found[row.of_job].area_standings[row.area_id] = row
    entries = inspections.RecordEntry.objects.filter(job__in=found).order_by().values("job_id")
    counted = entries.annotate(count=Count("id"), last=Max("number"))
    for row in counted.values_list("job_id", "count", "last", named=True):
        found[row.job_id].entries = (row.count, row.last)
