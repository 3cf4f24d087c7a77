"""What a crew is to know of one day: houses in order, work, what is open, what to bring."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, field
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Any
from uuid import UUID

from config.languages import say
from inspections.checker.stored_finding import in_english
from inspections.conclusions.signs import area_sign, job_age
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
from jobs.models import Crew, Job, PlannedWork, Shop, WorkRules
from jobs.planning import crews as pure
from jobs.planning.horizon import Horizon
from jobs.planning.working_days import NeverOpen


@dataclass(frozen=True, slots=True)
class Work:
    """One task of the day."""

    task: str
    kind: str
    what: str
    area: str
    rooms: list[str]
    from_hour: str
    to_hour: str


@dataclass(frozen=True, slots=True)
class ToCorrect:
    """Something open: an item that fails, or a deficiency that was called."""

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
    inspections: list[str]
    corrections: list[ToCorrect]
    bring: list[str]
    leave_alone: list[str]
    """What must not be touched or covered."""


@dataclass(frozen=True, slots=True)
class NextDay:
    """A crew's list for one day. `crew` and `lead` are rows; the rest is plain text."""

    crew: Crew
    day: date
    people: list[str]
    houses: list[AtHouse] = field(default_factory=list)
    person_ids: list[UUID] = field(default_factory=list)
    """Who is in the crew that day, as ids."""
    cautions: list[str] = field(default_factory=lambda: [CAUTION])

    @property
    def lead(self) -> Any:
        """The person who is told; None when the crew has no lead."""
        return self.crew.lead

    def lines(self) -> list[str]:
        """The list in short: one line a task or inspection, in the order of the day."""
        found = []
        for house in self.houses:
            where = f"{house.job}, {house.address}"
            for w in house.work:
                found.append(f"{w.from_hour} {where}: {w.what}, until {w.to_hour}")
            for inspection in house.inspections:
                found.append(f"{where}: attend the {inspection}")
        return found

    def content(self) -> dict[str, Any]:
        """The list as plain values, to be kept as it was sent."""
        houses = []
        for house in self.houses:
            houses.append(asdict(house))
        return {
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


def _booked_words(inspection: Inspection, window: tuple[datetime, datetime]) -> str:
    """A booked inspection with its hours and its areas."""
    hours = f"{window[0]:%H:%M} to {window[1]:%H:%M}"
    words = f"{inspection.get_kind_display()} visit booked {hours}"
    if areas := ", ".join(area.name for area in inspection.areas.all()):
        return f"{words}, {areas}"
    return words


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
        things = []
        for _, _, row in spans:
            if stuff:
                for thing in bring(row.kind, stuff, row.area.code if row.area else ""):
                    things.append(thing)
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
            bring=list(dict.fromkeys(things)),
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

    def _inspections(self, job: Job, spans: Sequence[tuple[int, int, PlannedWork]]) -> list[str]:
        """The inspections booked for the day; where there is none, those planned for it."""
        booked = []
        for inspection in self.facts.inspections.get(job.id, ()):
            window = booked_window(inspection)
            if window and window[0].date() == self.day:
                booked.append(_booked_words(inspection, window))
        if booked:
            return booked
        planned = []
        for _, _, row in spans:
            if row.kind == "inspection":
                planned.append(f"{row.name}: planned for today, not booked")
        return planned

    def _corrections(self, area: Any, codes: Sequence[str]) -> Iterable[ToCorrect]:
        """What is open in the areas that are worked on; in all of them when none is named."""
        if codes and area.code not in codes:
            return
        for called in self.facts.called.get(area.id, ()):
            due = ""
            if called.due_on:
                due = f", due {called.due_on}"
            yield ToCorrect(
                called.where or area.name, f"called by the inspector: {called.what}{due}", "",
                called.section,
            )  # fmt: skip
        for item in self.facts.failing.get(area.id, ()):
            finding = item.finding
            figure = ""
            if finding.get("working"):
                figure = {"join": finding["working"], "between": "; "}
            source = f"{finding['edition']} {finding['section']}"
            yield ToCorrect(finding["where"], finding["says"], finding["remedy"], source, figure)

    def _leave_alone(self, job: Job) -> list[str]:
        found = []
        for area in job.areas.all():
            said = area_sign(area)
            if said is Sign.UNCHECKED:
                words = say(job_age(job).words(job.time_zone), "en")
                found.append(f"{area.name}: {words} Nothing here may be covered.")
            elif said is Sign.HOLD:
                found.append(f"{area.name}: on hold. Nothing here may be covered.")
        reached = self.facts.milestones.get(job.id, ())
        if "hookup" in reached and "finish" not in reached:
            found.append("The service is energised for the hookup: test before you touch.")
        return found


EMPTY: dict[str, Any] = {"people": [], "houses": []}
"""The list of a crew without work."""


def list_differences(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """What is different between two lists, in words."""
    was, now = _lines(before), _lines(after)
    gone = []
    for line in was:
        if line not in now:
            gone.append(f"no longer: {line}")
    new = []
    for line in now:
        if line not in was:
            new.append(f"new: {line}")
    return [*gone, *new]


def _lines(content: dict[str, Any]) -> list[str]:
    lines = []
    for name in content["people"]:
        lines.append(f"in the crew: {name}")
    for house in content["houses"]:
        job = house["job"]
        lines.append(f"{job}: arrive {house['arrival']}")
        for w in house["work"]:
            lines.append(f"{job}: {w['what']}, {w['from_hour']} to {w['to_hour']}")
        for inspection in house["inspections"]:
            lines.append(f"{job}: {inspection}")
        for each in house["corrections"]:
            where, says = in_english(each["where"]), in_english(each["says"])
            lines.append(f"{job}: mend {where}: {says}")
        for thing in house["bring"]:
            lines.append(f"{job}: bring {thing}")
        for each in house["leave_alone"]:
            lines.append(f"{job}: {each}")
    return lines
