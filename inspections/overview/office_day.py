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

from config.messages.message import Listed, Message, Text
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
from inspections.overview import office_messages as words
from inspections.standing.age import Sign
from inspections.standing.holds import ROUGH_IN_REASONS, HoldReason
from inspections.standing.inspection_messages import inspection_kind
from inspections.standing.stages import Milestone
from jobs.models import Area, Job

NEAR = timedelta(days=7)
EXPIRING = timedelta(days=14)
SLOW = timedelta(days=14)
OVER = (Happening.HELD, Happening.CANCELLED)
LOST: dict[str, tuple[Message, Message]] = {
    Happening.NO_ACCESS: (words.NO_ACCESS, words.NO_ACCESS_DO),
    Happening.NOBODY_CAME: (words.NOBODY_CAME, words.NOBODY_CAME_DO),
}
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
    what: Text
    do: Text


@dataclass(frozen=True, slots=True)
class OpenInspection:
    """An inspection that has not ended: its kind, areas, window and what last happened."""

    job_id: UUID
    kind: Text
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
        kind = inspection_kind(inspection.kind)
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
    open_yet = Deficiency.objects.filter(job__in=list(jobs), corrected_at__isnull=True)
    for job_id, due_on in open_yet.filter(due_on__isnull=False).values_list("job_id", "due_on"):
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
    job = now_of.job
    age = job_age(job, now).words(job.time_zone)
    if job.standing.set_aside_at is not None and age is not None:
        what = words.NOT_CHECKED(age=age)
        yield OfficeTask(Weight.NOT_CHECKED, job, what, words.NOT_CHECKED_DO())
    yield from _cover_lines(now_of)
    yield from _permit_lines(now_of)
    yield from _inspection_lines(now_of, now)
    yield from _area_lines(now_of)
    if now_of.overdue:
        what = words.OVERDUE(n=now_of.overdue)
        yield OfficeTask(Weight.OVERDUE, job, what, words.OVERDUE_DO())
    yield from _temporary_lines(now_of)


def _temporary_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    reached = {}
    for each in now_of.job.milestones.all():
        reached[each.milestone] = each
    hookup = reached.get(Milestone.HOOKUP)
    until = None
    if hookup:
        until = hookup.temporary_until
    if until and Milestone.TEMPORARY_GONE not in reached and until <= now_of.today + NEAR:
        what = words.TEMPORARY(day=until)
        yield OfficeTask(Weight.TEMPORARY, now_of.job, what, words.TEMPORARY_DO())


def _cover_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    day = now_of.job.drywall_on
    if day is None or not now_of.held:
        return
    areas = Listed(tuple(area.name for area in now_of.held))
    if day <= now_of.today:
        what = words.COVERED(day=day, areas=areas)
        yield OfficeTask(Weight.COVERED_ON_HOLD, now_of.job, what, words.COVERED_DO())
    elif day <= now_of.today + NEAR:
        what = words.DANGER(day=day, areas=areas)
        yield OfficeTask(Weight.DATE_IN_DANGER, now_of.job, what, words.DANGER_DO())


def _permit_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    permit, today = getattr(now_of.job, "permit", None), now_of.today
    if permit is None:
        return
    if permit.issued_on is None or permit.issued_on > today:
        if permit.applied_on + SLOW <= today:
            what = words.PERMIT_SLOW(day=permit.applied_on)
            yield OfficeTask(Weight.PERMIT_SLOW, now_of.job, what, words.PERMIT_SLOW_DO())
    elif permit.expires_on and permit.expires_on <= today + EXPIRING:
        what = words.PERMIT_ENDING(day=permit.expires_on)
        if permit.expires_on < today:
            what = words.PERMIT_EXPIRED(day=permit.expires_on)
        yield OfficeTask(Weight.PERMIT_ENDING, now_of.job, what, words.PERMIT_ENDING_DO())


def _inspection_lines(now_of: OfficeJob, now: datetime) -> Iterator[OfficeTask]:
    for each in now_of.inspections:
        if each.happening in LOST:
            lost, do = LOST[each.happening]
            what = lost(inspection=each.kind)
            yield OfficeTask(Weight.INSPECTION_LOST, now_of.job, what, do())
        elif each.ends_at is not None and each.ends_at < now:
            what = words.ANSWER_MISSING(inspection=each.kind, day=now_of.day(each.ends_at))
            yield OfficeTask(Weight.ANSWER_MISSING, now_of.job, what, words.ANSWER_MISSING_DO())


def _area_lines(now_of: OfficeJob) -> Iterator[OfficeTask]:
    job, fee = now_of.job, now_of.job.authority.reinspection_fee
    for move, names in _names_by_move(now_of).items():
        if names and move in TASKS:
            weight, what, do = TASKS[move]
            doing = do()
            if move is _Move.ASK_AGAIN and fee:
                doing = words.REINSPECT_FEE_DO(fee=fee)
            yield OfficeTask(weight, job, what(areas=Listed(tuple(names))), doing)


class _Move(Enum):
    """What the office does next for an area that may not be covered."""

    SAY_WHAT_WAS_DONE = auto()
    RELEASE_AGAIN = auto()
    RELEASE = auto()
    ASK_AGAIN = auto()
    ASK = auto()
    NONE = auto()


TASKS = {
    _Move.SAY_WHAT_WAS_DONE: (Weight.UNANSWERED, words.UNANSWERED, words.UNANSWERED_DO),
    _Move.RELEASE_AGAIN: (Weight.RELEASE, words.RELEASE_AGAIN, words.RELEASE_AGAIN_DO),
    _Move.RELEASE: (Weight.RELEASE, words.RELEASE, words.RELEASE_DO),
    _Move.ASK_AGAIN: (Weight.REINSPECTION, words.NOT_ACCEPTED, words.REINSPECT_DO),
    _Move.ASK: (Weight.ASK, words.READY, words.READY_DO),
}
"""What each is to the office: how much it weighs, what happened, what to do."""


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
    marks: tuple[Text, ...]


def office_calendar(now_of: OfficeJob, days: Sequence[date]) -> list[Cell]:
    """The inspections and cover dates of a job on each of the days."""
    marks: dict[date, list[Text]] = {}
    for inspection in now_of.inspections:
        if inspection.starts_at is not None:
            marks.setdefault(now_of.day(inspection.starts_at), []).append(inspection.kind)
    if now_of.job.drywall_on:
        marks.setdefault(now_of.job.drywall_on, []).append(words.DRYWALL())
    cells: list[Cell] = []
    for day in days:
        cells.append(Cell(day, tuple(marks.get(day, ()))))
    return cells
