"""The office's day over all of its open jobs: what needs a call or a decision, and three weeks.

Reads the copies that settling keeps and a fixed number of queries, however many jobs there are.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from enum import Enum, IntEnum, auto
from typing import TYPE_CHECKING, Any, TypedDict
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet, Subquery

from inspections.conclusions.signs import job_age
from inspections.models import (
    Acceptance,
    Answer,
    CoverRelease,
    Deficiency,
    Happening,
    Inspection,
    InspectionEvent,
)
from inspections.standing.age import Sign
from inspections.standing.holds import ROUGH_IN_REASONS, HoldReason
from inspections.standing.stages import Milestone
from jobs.models import Area, Job

NEAR = timedelta(days=7)
EXPIRING = timedelta(days=14)
SLOW = timedelta(days=14)
OVER = (Happening.HELD, Happening.CANCELLED)
NO_INSPECTION_YET = {*ROUGH_IN_REASONS, "permit"}
"""Reasons that must be lifted before an inspection is asked for."""


class Weight(IntEnum):
    """How much it costs to leave a thing for tomorrow, the most first."""

    NOT_CHECKED = auto()
    COVERED_ON_HOLD = auto()
    ANSWER_MISSING = auto()
    DATE_IN_DANGER = auto()
    PERMIT_ENDING = auto()
    INSPECTION_LOST = auto()
    REINSPECTION = auto()
    OVERDUE = auto()
    UNANSWERED = auto()
    RELEASE = auto()
    ASK = auto()
    TEMPORARY = auto()
    PERMIT_SLOW = auto()


@dataclass(frozen=True, slots=True)
class OfficeTask:
    """One thing for the office, and the one action that ends it."""

    weight: Weight
    job: Job
    what: str
    do: str


@dataclass(frozen=True, slots=True)
class OpenInspection:
    """An inspection that has not ended: its kind, areas, window and what last happened."""

    job_id: UUID
    kind: str
    area_ids: frozenset[UUID]
    happening: str
    starts_at: datetime | None
    ends_at: datetime | None


if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Asked(TypedDict):
        last_answer: str | None
        ever_released: bool

    AreaNow = WithAnnotations[Area, _Asked]


@dataclass
class OfficeJob:
    """One open job with what the lines and the calendar need of it."""

    job: Job
    now: datetime
    today: date
    areas: Sequence["AreaNow"]
    inspections: list[OpenInspection] = field(default_factory=list)
    overdue: int = 0

    @property
    def sign(self) -> Sign:
        """What may be said of all of its areas together."""
        if self.held or not self.areas:
            return Sign.HOLD
        if job_age(self.job, self.now).current:
            return Sign.CLEAR
        return Sign.UNCHECKED

    @property
    def held(self) -> list["AreaNow"]:
        """The areas that may not be covered."""
        areas: list[AreaNow] = []
        for area in self.areas:
            if not area.standing.released:
                areas.append(area)
        return areas

    def day(self, moment: datetime) -> date:
        """The day of a moment at the house."""
        return moment.astimezone(ZoneInfo(self.job.time_zone)).date()


def open_jobs(jobs: QuerySet[Job], now: datetime) -> list[OfficeJob]:
    """Those of the jobs whose permit is not closed, each with its areas and inspections."""
    last_answer = Acceptance.objects.filter(area=OuterRef("pk")).order_by("-recorded_at", "-id")
    areas = (
        Area.objects.select_related("standing")
        .annotate(
            last_answer=Subquery(last_answer.values("answer")[:1]),
            ever_released=Exists(CoverRelease.objects.filter(area=OuterRef("pk"))),
        )
        .order_by("id")
    )
    still = (
        jobs.exclude(permit__closed_on__isnull=False)
        .select_related("standing", "permit", "builder", "authority", "crew_lead", "shop")
        .prefetch_related(Prefetch("areas", areas), "milestones")
        .order_by("drywall_on", "id")
    )
    found = {}
    for job in still:
        today = now.astimezone(ZoneInfo(job.time_zone)).date()
        areas_now: Any = job.areas.all()  # as they were read above, with what was asked of each
        found[job.id] = OfficeJob(job, now, today, list(areas_now))
    for inspection in _inspections(found):
        found[inspection.job_id].inspections.append(inspection)
    for job_id, due_on in _due(found):
        found[job_id].overdue += due_on < found[job_id].today
    return list(found.values())


def _inspections(jobs: Iterable[UUID]) -> Iterator[OpenInspection]:
    last = InspectionEvent.objects.filter(inspection=OuterRef("pk")).order_by("-recorded_at", "-id")
    window = last.filter(starts_at__isnull=False)
    inspections = (
        Inspection.objects.filter(job__in=list(jobs))
        .annotate(
            last=Subquery(last.values("happening")[:1]),
            starts=Subquery(window.values("starts_at")[:1]),
            ends=Subquery(window.values("ends_at")[:1]),
        )
        .filter(Q(last__isnull=True) | ~Q(last__in=OVER))
        .prefetch_related("areas")
    )
    for inspection in inspections:
        ids = []
        for area in inspection.areas.all():
            ids.append(area.id)
        areas = frozenset(ids)
        kind = inspection.get_kind_display()
        yield OpenInspection(
            inspection.job_id,
            kind,
            areas,
            inspection.last or "",
            inspection.starts,
            inspection.ends,
        )


def _due(jobs: Iterable[UUID]) -> Iterator[tuple[UUID, date]]:
    """The due date of each deficiency that is not corrected."""
    called = Deficiency.objects.filter(job__in=list(jobs), corrected_at__isnull=True)
    for job_id, due_on in called.filter(due_on__isnull=False).values_list("job_id", "due_on"):
        assert due_on is not None  # it was asked so
        yield job_id, due_on


def office_lines(jobs: Iterable[OfficeJob], now: datetime) -> list[OfficeTask]:
    """What needs a call or a decision, the most costly first, then by the cover's date."""
    lines = []
    for job in jobs:
        for line in _lines(job, now):
            lines.append(line)
    far = date.max
    return sorted(lines, key=lambda line: (line.weight, line.job.drywall_on or far))


def _lines(now_of: OfficeJob, now: datetime) -> Iterator[OfficeTask]:
    age = job_age(now_of.job, now)
    if now_of.job.standing.set_aside_at is not None:
        what = f"{age.words(now_of.job.time_zone)} Nothing of it counts as clear."
        yield OfficeTask(Weight.NOT_CHECKED, now_of.job, what, "tell whoever runs the site")
    yield from _cover_lines(now_of)
    yield from _permit_lines(now_of)
    yield from _inspection_lines(now_of, now)
    yield from _area_lines(now_of)
    job = now_of.job
    if now_of.overdue:
        noun = "deficiencies are"
        if now_of.overdue == 1:
            noun = "deficiency is"
        what = f"{now_of.overdue} {noun} overdue and not mended."
        yield OfficeTask(Weight.OVERDUE, job, what, "ask the crew lead")
    reached = {}
    for each in job.milestones.all():
        reached[each.milestone] = each
    hookup = reached.get(Milestone.HOOKUP)
    until = None
    if hookup:
        until = hookup.temporary_until
    if until and Milestone.TEMPORARY_GONE not in reached and until <= now_of.today + NEAR:
        what = f"The temporary service is to go by {until}."
        yield OfficeTask(Weight.TEMPORARY, job, what, "have it removed and record it")


def _cover_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    day = now_of.job.drywall_on
    if day is None or not now_of.held:
        return
    held = []
    for area in now_of.held:
        held.append(area.name)
    names = ", ".join(held)
    if day <= now_of.today:
        what = f"Drywall was to begin on {day}, and held are: {names}."
        yield OfficeTask(Weight.COVERED_ON_HOLD, now_of.job, what, "call the builder")
    elif day <= now_of.today + NEAR:
        what = f"Drywall is due on {day}, and held are: {names}."
        yield OfficeTask(
            Weight.DATE_IN_DANGER, now_of.job, what, "move the date or tell the builder"
        )


def _permit_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    permit, today = getattr(now_of.job, "permit", None), now_of.today
    if permit is None:
        return
    if permit.issued_on is None or permit.issued_on > today:
        if permit.applied_on + SLOW <= today:
            what = f"The permit was applied for on {permit.applied_on} and is not issued."
            yield OfficeTask(Weight.PERMIT_SLOW, now_of.job, what, "ask the authority")
    elif permit.expires_on and permit.expires_on <= today + EXPIRING:
        if permit.expires_on < today:
            what = f"The permit expired on {permit.expires_on}."
        else:
            what = f"The permit is good until {permit.expires_on}."
        yield OfficeTask(Weight.PERMIT_ENDING, now_of.job, what, "ask for an extension")


def _inspection_lines(now_of: OfficeJob, now: datetime) -> Iterator[OfficeTask]:
    for inspection in now_of.inspections:
        if inspection.happening in (Happening.NO_ACCESS, Happening.NOBODY_CAME):
            words = Happening(inspection.happening).label
            what = f"The {inspection.kind} visit: {words}."
            nobody = inspection.happening == Happening.NOBODY_CAME
            do = "agree a new window"
            if nobody:
                do = "ask for a new visit"
            yield OfficeTask(Weight.INSPECTION_LOST, now_of.job, what, do)
        elif inspection.ends_at is not None and inspection.ends_at < now:
            day = now_of.day(inspection.ends_at)
            what = f"The {inspection.kind} visit of {day} has no answer on record."
            yield OfficeTask(Weight.ANSWER_MISSING, now_of.job, what, "record the answer")


def _area_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    names, job = _names_by_move(now_of), now_of.job
    if unanswered := names[_Move.SAY_WHAT_WAS_DONE]:
        what = f"The cover release was withdrawn, and nobody answered why: {', '.join(unanswered)}."
        yield OfficeTask(Weight.UNANSWERED, job, what, "record what was done about it")
    if again := names[_Move.RELEASE_AGAIN]:
        what = f"Nothing holds what was withdrawn any more: {', '.join(again)}."
        yield OfficeTask(Weight.RELEASE, job, what, "release for cover again")
    if release := names[_Move.RELEASE]:
        what = f"Accepted, and nothing holds: {', '.join(release)}."
        yield OfficeTask(Weight.RELEASE, job, what, "clear for cover")
    if again := names[_Move.ASK_AGAIN]:
        fee = ""
        if job.authority.reinspection_fee:
            fee = f" (fee {job.authority.reinspection_fee})"
        what = f"Not accepted, and nobody asked again: {', '.join(again)}."
        yield OfficeTask(Weight.REINSPECTION, job, what, f"ask for the visit again{fee}")
    if ask := names[_Move.ASK]:
        yield OfficeTask(
            Weight.ASK, job, f"Ready and not asked for: {', '.join(ask)}.", "ask for it"
        )


class _Move(Enum):
    """What the office does next for an area that may not be covered."""

    SAY_WHAT_WAS_DONE = auto()
    RELEASE_AGAIN = auto()
    RELEASE = auto()
    ASK_AGAIN = auto()
    ASK = auto()
    NONE = auto()


def _names_by_move(now_of: OfficeJob) -> dict[_Move, list[str]]:
    """The held areas, by what the office does next for them."""
    coming: set[UUID] = set()
    for inspection in now_of.inspections:
        coming.update(inspection.area_ids)
    names: dict[_Move, list[str]] = {move: [] for move in _Move}
    for area in now_of.held:
        names[_move_of(area, coming)].append(area.name)
    return names


def _move_of(area: "AreaNow", coming: set[UUID]) -> _Move:
    reasons = {hold["reason"] for hold in area.standing.holds}
    if not reasons and area.ever_released:
        return _Move.RELEASE_AGAIN
    if not reasons:
        return _Move.RELEASE
    if HoldReason.WITHDRAWN in reasons:
        return _Move.SAY_WHAT_WAS_DONE
    if area.id in coming or reasons & NO_INSPECTION_YET:
        return _Move.NONE
    if area.last_answer == Answer.NOT_ACCEPTED:
        return _Move.ASK_AGAIN
    if reasons & {"acceptance", "changed"}:
        return _Move.ASK
    return _Move.NONE


@dataclass(frozen=True, slots=True)
class Cell:
    """One day of one job."""

    day: date
    marks: tuple[str, ...]


def office_calendar(now_of: OfficeJob, days: Sequence[date]) -> list[Cell]:
    """The inspections and cover dates of a job on each of the days."""
    marks: dict[date, list[str]] = {}
    for inspection in now_of.inspections:
        if inspection.starts_at is not None:
            marks.setdefault(now_of.day(inspection.starts_at), []).append(
                f"{inspection.kind} visit"
            )
    if now_of.job.drywall_on:
        marks.setdefault(now_of.job.drywall_on, []).append("drywall")
    cells: list[Cell] = []
    for day in days:
        cells.append(Cell(day, tuple(marks.get(day, ()))))
    return cells
