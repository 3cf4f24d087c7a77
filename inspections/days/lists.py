"""What a crew is to know of one day: houses in order, work, what is open, what to bring."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, field
from datetime import date, datetime, time, timedelta
from itertools import groupby
from typing import Any
from uuid import UUID

from config.messages.kept import message_of
from config.messages.message import Text, Value, WeekDay
from config.messages.stored import to_json
from inspections.conclusions.signs import area_sign, job_age
from inspections.days import day_messages as words
from inspections.days.changes import AS_MESSAGES
from inspections.days.gather import PlanningRows, booked_window, planning_rows
from inspections.days.problem import (
    Drives,
    crew_stints,
    drives_of,
    shop_horizon,
    start_of,
    told_plan,
    work_rules,
    workers_of,
)
from inspections.houses.take_off import bring
from inspections.models import Inspection
from inspections.papers.report.as_text import CAUTION
from inspections.standing.age import Sign
from inspections.standing.inspection_messages import inspection_kind
from jobs.models import Crew, Job, PlannedWork, Shop, WorkRules
from jobs.planning import crews as pure
from jobs.planning.horizon import Horizon
from jobs.planning.working_days import NeverOpen


@dataclass(frozen=True, slots=True)
class Work:
    """One task of the day."""

    task: str
    kind: str
    what: Any
    """A message as it is stored, or what the office typed."""
    area: str
    rooms: list[str]
    from_hour: str
    to_hour: str


@dataclass(frozen=True, slots=True)
class ToCorrect:
    """Something open: an item that is not to code, or a deficiency that was written up."""

    where: Any
    says: Any
    remedy: Any
    source: str
    figure: Any = ""
    """Where, what, what to do and the working: messages as they are stored, or plain text."""


@dataclass(frozen=True, slots=True)
class AtHouse:
    """One stop of the day."""

    job: str
    job_id: str
    address: str
    arrival: str
    drive_minutes: int
    work: list[Work]
    inspections: list[Any]
    corrections: list[ToCorrect]
    bring: list[Any]
    leave_alone: list[Any]
    """What must not be touched or covered; messages as they are stored, as the two before."""


@dataclass(frozen=True, slots=True)
class NextDay:
    """A crew's list for one day. `crew` and `lead` are rows; the rest is plain values."""

    crew: Crew
    day: date
    people: list[str]
    houses: list[AtHouse] = field(default_factory=list)
    person_ids: list[UUID] = field(default_factory=list)
    """Who is in the crew that day, as ids."""
    cautions: list[Any] = field(default_factory=lambda: [to_json(CAUTION)])

    @property
    def lead(self) -> Any:
        """The person who is told; None when the crew has no lead."""
        return self.crew.lead

    def lines(self) -> list[Value]:
        """The list in short: one line a task or inspection, in the order of the day."""
        found: list[Value] = []
        for house in self.houses:
            where = {"job": house.job, "address": house.address}
            for work in house.work:
                starts = time.fromisoformat(work.from_hour)
                ends = time.fromisoformat(work.to_hour)
                what = message_of(work.what)
                found.append(words.IN_SHORT(**where, what=what, starts=starts, ends=ends))
            for inspection in house.inspections:
                attended = message_of(inspection)
                found.append(words.ATTEND_IN_SHORT(**where, inspection=attended))
        return found

    def content(self) -> dict[str, Any]:
        """The list as plain values, to be kept as it was sent."""
        houses = []
        for house in self.houses:
            houses.append(asdict(house))
        return {
            AS_MESSAGES: True,
            "crew": self.crew.name,
            "lead": str(self.crew.lead) if self.crew.lead else "",
            "day": self.day.isoformat(),
            "people": self.people,
            "houses": houses,
            "cautions": self.cautions,
        }


def draw_lists(shop: Shop, day: date, crews: Iterable[Crew] | None = None) -> list[NextDay]:
    """The list of every crew of the shop that has work that day, from the plan last told.

    The open items, holds and bookings in it are those of this moment, not of the plan's.
    """
    rules, plan = work_rules(shop), told_plan(shop)
    if plan is None:
        return []
    work = PlannedWork.objects.filter(
        plan=plan, crew__isnull=False, starts_on__lte=day, ends_on__gte=day
    ).select_related("crew__lead", "area")
    if crews is not None:
        work = work.filter(crew__in=list(crews))
    rows = sorted(work, key=_by_crew)
    try:
        weeks = shop_horizon(rules, day)
    except NeverOpen:
        return []
    job_ids = set()
    for row in rows:
        job_ids.add(row.job_id)
    facts = planning_rows(shop, job_ids)
    drawing = _Drawing(shop, rules, weeks, facts, day)
    drawn = []
    for _, found in groupby(rows, lambda row: row.crew_id):
        group = list(found)
        drawn.append(drawing.list_of(_crew_of(group[0]), group))
    return drawn


def _crew_of(work: PlannedWork) -> Crew:
    """Whose it is: only work of crews is on lists."""
    assert work.crew is not None
    return work.crew


def _by_crew(work: PlannedWork) -> tuple[str, UUID]:
    crew = _crew_of(work)
    return crew.name, crew.id


def _booked_words(inspection: Inspection, window: tuple[datetime, datetime]) -> Text:
    """A booked inspection with its areas and its hours."""
    areas = [area.name for area in inspection.areas.all()]
    named = inspection_kind(inspection.kind, areas)
    return words.BOOKED(inspection=named, starts=window[0].time(), ends=window[1].time())


class _Drawing:
    def __init__(
        self, shop: Shop, rules: WorkRules, weeks: Horizon, facts: PlanningRows, day: date
    ) -> None:
        self.rules, self.weeks, self.facts, self.day = rules, weeks, facts, day
        self.jobs = {job.id: job for job in facts.jobs}
        self.drives: Drives = drives_of(shop, rules)
        self.workers = workers_of(shop)
        self.places = crew_stints(Crew.objects.filter(shop=shop))

    def list_of(self, crew: Crew, rows: Sequence[PlannedWork]) -> NextDay:
        """One crew's day: its houses in the order of their first work."""
        people = pure.present(crew.id.hex, self.day, self.places, self.workers)
        placed = []
        for row in rows:
            if row.job_id in self.jobs:
                placed.append((*self._span(row), row))
        spans = sorted(
            placed,
            key=lambda each: (each[0], each[1], each[2].task),
        )
        houses: list[AtHouse] = []
        before: UUID | None = None
        for job_id, group in groupby(spans, lambda each: each[2].job_id):
            houses.append(self._stop(crew, self.jobs[job_id], list(group), before))
            before = job_id
        names = []
        ids = []
        for worker in people:
            names.append(worker.name)
            ids.append(UUID(worker.id))
        return NextDay(crew, self.day, names, houses, ids)

    def _span(self, row: PlannedWork) -> tuple[int, int]:
        """The first and last part of this day that the work takes."""
        first = 0
        if row.starts_on == self.day:
            first = row.start_part
        if row.ends_on == self.day:
            last = row.end_part
        else:
            last = self.weeks.parts - 1
        return min(first, self.weeks.parts - 1), min(last, self.weeks.parts - 1)

    def _stop(
        self,
        crew: Crew,
        job: Job,
        spans: Sequence[tuple[int, int, PlannedWork]],
        before: UUID | None,
    ) -> AtHouse:
        drive = self.drives.minutes(start_of(crew, self.rules), before, job.id)
        starts = datetime.combine(self.day, self.weeks.part_starts(spans[0][0]))
        stuff = self.facts.stuff.get(job.id)
        codes = []
        for _, _, row in spans:
            if row.area:
                codes.append(row.area.code)
        things: list[Any] = []
        for _, _, row in spans:
            if stuff:
                for thing in bring(row.kind, stuff, row.area.code if row.area else ""):
                    if (kept := to_json(thing)) not in things:
                        things.append(kept)
        work = []
        for first, last, row in spans:
            work.append(self._work(first, last, row))
        corrections = []
        for area in job.areas.all():
            for each in self._corrections(area, codes):
                corrections.append(each)
        return AtHouse(
            job=job.name,
            job_id=str(job.id),
            address=job.address,
            arrival=f"{starts + timedelta(minutes=drive):%H:%M}",
            drive_minutes=drive,
            work=work,
            inspections=self._inspections(job, spans),
            corrections=corrections,
            bring=things,
            leave_alone=self._leave_alone(job),
        )

    def _work(self, first: int, last: int, row: PlannedWork) -> Work:
        stuff = self.facts.stuff.get(row.job_id)
        rooms = []
        if stuff and row.area:
            rooms = stuff.areas[row.area.code].rooms
        return Work(
            row.task,
            row.kind,
            row.name,
            row.area.name if row.area else "",
            rooms,
            f"{self.weeks.part_starts(first):%H:%M}",
            f"{self.weeks.part_ends(last):%H:%M}",
        )

    def _inspections(self, job: Job, spans: Sequence[tuple[int, int, PlannedWork]]) -> list[Any]:
        """The inspections booked for the day; where there is none, those planned for it."""
        booked = []
        for inspection in self.facts.inspections.get(job.id, ()):
            window = booked_window(inspection)
            if window and window[0].date() == self.day:
                booked.append(to_json(_booked_words(inspection, window)))
        if booked:
            return booked
        planned = []
        for _, _, row in spans:
            if row.kind == "inspection":
                planned.append(to_json(words.PLANNED(inspection=message_of(row.name))))
        return planned

    def _corrections(self, area: Any, codes: Sequence[str]) -> Iterable[ToCorrect]:
        """What is open in the areas that are worked on; in all of them when none is named."""
        if codes and area.code not in codes:
            return
        for called in self.facts.called.get(area.id, ()):
            says = words.WRITTEN_UP(what=called.what)
            if called.due_on:
                says = words.WRITTEN_UP_DUE(what=called.what, day=WeekDay(called.due_on))
            yield ToCorrect(called.where or area.name, to_json(says), "", called.section)
        for item in self.facts.failing.get(area.id, ()):
            finding = item.finding
            figure = ""
            if finding.get("working"):
                figure = {"join": finding["working"], "between": "; "}
            source = f"{finding['edition']} {finding['section']}"
            yield ToCorrect(finding["where"], finding["says"], finding["remedy"], source, figure)

    def _leave_alone(self, job: Job) -> list[Any]:
        found: list[Value] = []
        for area in job.areas.all():
            said = area_sign(area)
            if said is Sign.UNCHECKED:
                age = job_age(job).words(job.time_zone)
                found.append(words.NOT_CHECKED(area=area.name, age=age or ""))
            elif said is Sign.HOLD:
                found.append(words.DO_NOT_COVER(area=area.name))
        reached = self.facts.milestones.get(job.id, ())
        if "hookup" in reached and "finish" not in reached:
            found.append(words.ENERGIZED())
        return [to_json(line) for line in found]
