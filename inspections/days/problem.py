"""A shop's whole problem: its houses, crews and calendar as the planner takes them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from config.messages.message import Value
from inspections.days.gather import PlanningRows, house_now, planning_rows
from inspections.days.what_if import Supposed
from jobs.models import (
    Absence,
    Authority,
    Crew,
    CrewPlace,
    DriveTime,
    Job,
    PersonSkill,
    Plan,
    PlannedWork,
    Shop,
    Site,
    Skill,
    WorkRules,
)
from jobs.moments import day_on_record
from jobs.planning import crews as pure
from jobs.planning.horizon import Horizon, horizon, per_slot
from jobs.planning.house_tasks import HouseNow, house_work
from jobs.planning.plan_messages import NO_HOUSE, part_of_day
from jobs.planning.problem import CrewSlots as PlanCrew
from jobs.planning.problem import PlannedInspection, Problem, Promise, Task, ToldAssignment
from jobs.planning.rates import Rates
from jobs.planning.working_days import Calendar


@dataclass
class ShopProblem:
    """The problem, with what is needed to read a plan of it."""

    problem: Problem
    weeks: Horizon
    facts: PlanningRows
    houses: dict[str, HouseNow]
    """By the hex of the job's id."""
    working: dict[str, Value] = field(default_factory=dict)
    """How the minutes of each task came about."""
    unplanned: list[Value] = field(default_factory=list)
    """Jobs that nothing can be planned of, and why."""

    def say(self, slot: int) -> Value:
        """A slot as a reader is told it."""
        day = self.weeks.days[min(max(slot, 0), self.weeks.size - 1) // self.weeks.parts]
        part = slot % self.weeks.parts
        return part_of_day(day, part, self.weeks.parts, self.weeks.part_starts(part))

    def split(self, activity: str) -> tuple[UUID, str]:
        """The job and the key of a task or inspection."""
        house, _, key = activity.partition(":")
        return UUID(house), key


def work_rules(shop: Shop) -> WorkRules:
    """The shop's rules, or those that every shop starts with."""
    return WorkRules.objects.filter(shop=shop).first() or WorkRules(shop=shop)


def shop_calendar(rules: WorkRules) -> Calendar:
    """The days on which the shop works."""
    closures = {}
    for day, why in rules.closures.items():
        closures[day_on_record(day)] = why
    return Calendar(frozenset(rules.works_on), *_home(rules), closures)


def _home(rules: WorkRules) -> tuple[str, str]:
    """The country and region whose holidays the shop keeps: its own, or that of its authorities
    where they are of one.
    """
    if rules.country:
        return rules.country, rules.region
    known = Authority.objects.filter(shop=rules.shop_id).exclude(country="")
    places = set(known.values_list("country", "region"))
    if len({country for country, _ in places}) != 1:
        return "", ""
    country, region = places.pop()
    return country, "" if places else region


def shop_horizon(rules: WorkRules, first: date) -> Horizon:
    """The working days of the coming weeks. Raises NeverOpen when there is none."""
    return horizon(
        shop_calendar(rules),
        first,
        rules.weeks,
        parts=rules.parts,
        from_hour=rules.from_hour,
        part_minutes=rules.part_minutes,
        break_minutes=rules.break_minutes,
    )


def shop_problem(
    shop: Shop, first: date, now: datetime, supposing: Sequence[Supposed] = ()
) -> ShopProblem:
    """What is to be planned for a shop from a day on."""
    rules = work_rules(shop)
    weeks = shop_horizon(rules, first)
    facts = planning_rows(shop)
    told = told_by(shop, weeks)
    rates = Rates.of(rules.rates)
    houses = {}
    unplanned: list[Value] = []
    for job in facts.jobs:
        if job.id not in facts.stuff:
            unplanned.append(NO_HOUSE(job=job.name))
            continue
        houses[job.id.hex] = house_now(
            facts,
            job,
            weeks,
            now,
            rates=rates,
            cover_days=rules.cover_days,
            layers=shop.layers,
            told=told.get(job.id, {}),
        )
    tasks: list[Task] = []
    inspections: list[PlannedInspection] = []
    promises: list[Promise] = []
    working: dict[str, Value] = {}
    for house in houses.values():
        work = house_work(house)
        tasks.extend(work.tasks)
        inspections.extend(work.inspections)
        promises.extend(work.promises)
        working.update(work.working)
    problem = Problem(
        size=weeks.size,
        parts=weeks.parts,
        minutes=weeks.part_minutes,
        crews=plan_crews(shop, rules, weeks, facts.jobs, supposing),
        tasks=tuple(tasks),
        inspections=tuple(inspections),
        promises=tuple(promises),
        change_cost=rules.change_cost,
    )
    return ShopProblem(problem, weeks, facts, houses, working, unplanned)


def told_plan(shop: Shop) -> Plan | None:
    """The plan that people were last told."""
    return Plan.objects.filter(shop=shop, told_at__isnull=False).order_by("-told_at").first()


def told_by(shop: Shop, weeks: Horizon) -> dict[UUID, dict[str, ToldAssignment]]:
    """What people were told of each job's tasks that are still ahead."""
    plan = told_plan(shop)
    told: dict[UUID, dict[str, ToldAssignment]] = {}
    if plan is None:
        return told
    rows = PlannedWork.objects.filter(plan=plan, crew__isnull=False, starts_on__gte=weeks.first)
    columns = ("job", "task", "crew", "starts_on", "start_part")
    for job, task, crew, day, part in rows.values_list(*columns):
        if day in weeks.days and part < weeks.parts:
            number = weeks.days.index(day)
            slot = number * weeks.parts + part
            told.setdefault(job, {})[task] = ToldAssignment(crew.hex, number, slot)
    return told


def plan_crews(
    shop: Shop,
    rules: WorkRules,
    weeks: Horizon,
    jobs: Iterable[Job],
    supposing: Sequence[Supposed] = (),
) -> tuple[PlanCrew, ...]:
    """The shop's crews in these weeks, with who counts on each day and how far it is."""
    crews = list(Crew.objects.filter(shop=shop))
    places = crew_stints(crews)
    workers = _workers_supposing(shop, supposing)
    drives = _drives(shop, rules, crews, list(jobs))
    planned = []
    for crew in crews:
        people = {}
        hands = {}
        for day in weeks.days:
            people[day] = _people_on(day, crew, places, workers)
            counted = pure.hands(people[day], rules.apprentices_per_licensed)
            hands[day] = counted + _more_on(day, crew, supposing)
        planned.append(
            PlanCrew(
                crew.id.hex,
                crew.name,
                per_slot(weeks, hands.__getitem__),
                {Skill.LICENSED.value: _licensed_slots(weeks, people)},
                drives[crew.id.hex],
            )
        )
    return tuple(planned)


def _workers_supposing(shop: Shop, supposing: Sequence[Supposed]) -> dict[str, pure.Worker]:
    """The shop's people, with the absences that are supposed."""
    workers = workers_of(shop)
    for each in supposing:
        if each.what == "away" and (worker := workers.get(each.who.hex)):
            span = (each.from_day, each.to_day)
            workers[worker.id] = replace(worker, away=(*worker.away, span))
    return workers


def _people_on(
    day: date, crew: Crew, places: list[pure.CrewStint], workers: dict[str, pure.Worker]
) -> list[pure.Worker]:
    """Who of the crew is there on a day; nobody once it is stood down."""
    if crew.stood_down_on and day >= crew.stood_down_on:
        return []
    return pure.present(crew.id.hex, day, places, workers)


def _more_on(day: date, crew: Crew, supposing: Sequence[Supposed]) -> int:
    """How many people more the crew is supposed to have on a day."""
    more = 0
    for each in supposing:
        if each.what == "more" and each.who == crew.id and each.covers(day):
            more += 1
    return more


def _licensed_slots(weeks: Horizon, people: dict[date, list[pure.Worker]]) -> tuple[bool, ...]:
    """For each slot whether somebody who is there has a licence."""
    slots: list[bool] = []
    for day in weeks.days:
        licensed = any(worker.licensed for worker in people[day])
        slots.extend([licensed] * weeks.parts)
    return tuple(slots)


def crew_stints(crews: Iterable[Crew]) -> list[pure.CrewStint]:
    """Who is in these crews, and when."""
    rows = CrewPlace.objects.filter(crew__in=list(crews)).order_by("from_day", "id")
    places: list[pure.CrewStint] = []
    for r in rows:
        places.append(pure.CrewStint(r.crew_id.hex, r.person_id.hex, r.from_day, r.to_day))
    return places


def workers_of(shop: Shop) -> dict[str, pure.Worker]:
    """The shop's people as planning sees them."""
    skills: dict[str, set[str]] = {}
    for person, skill in PersonSkill.objects.filter(shop=shop).values_list("person", "skill"):
        skills.setdefault(person.hex, set()).add(skill)
    away: dict[str, list[tuple[date, date]]] = {}
    for each in Absence.objects.filter(shop=shop):
        away.setdefault(each.person_id.hex, []).append((each.from_day, each.to_day))
    rows = CrewPlace.objects.filter(crew__shop=shop).select_related("person")
    workers: dict[str, pure.Worker] = {}
    for row in rows:
        workers[row.person_id.hex] = pure.Worker(
            row.person_id.hex,
            str(row.person),
            Skill.LICENSED in skills.get(row.person_id.hex, ()),
            Skill.APPRENTICE in skills.get(row.person_id.hex, ()),
            tuple(away.get(row.person_id.hex, ())),
        )
    return workers


def _drives(
    shop: Shop, rules: WorkRules, crews: list[Crew], jobs: list[Job]
) -> dict[str, dict[str, int]]:
    """Minutes from where each crew starts to each house: as given, or over the straight line."""
    given = dict(
        DriveTime.objects.filter(shop=shop, start__isnull=True).values_list("end", "minutes")
    )
    sites = {}
    for site in _sites(shop):
        sites[site.job_id] = (site.latitude, site.longitude)
    found: dict[str, dict[str, int]] = {}
    for crew in crews:
        own = crew.latitude is not None and crew.longitude is not None
        start = start_of(crew, rules)
        drives = found[crew.id.hex] = {}
        for job in jobs:
            if job.id in given and not own:
                drives[job.id.hex] = given[job.id]
            elif start and job.id in sites:
                drives[job.id.hex] = pure.straight_minutes(start, sites[job.id], rules.speed_kmh)
    return found


def start_of(crew: Crew, rules: WorkRules) -> tuple[float, float] | None:
    """Where a crew starts its day: its own place, or the yard; None when nobody said."""
    if crew.latitude is not None and crew.longitude is not None:
        return crew.latitude, crew.longitude
    if rules.yard_latitude is not None and rules.yard_longitude is not None:
        return rules.yard_latitude, rules.yard_longitude
    return None


def _sites(shop: Shop) -> Iterable[Site]:
    return Site.objects.filter(job__shop=shop)


@dataclass
class Drives:
    """Minutes between any two places of a shop, for the order and arrivals of a day."""

    given: Mapping[tuple[UUID | None, UUID], int]
    sites: Mapping[UUID, tuple[float, float]]
    speed_kmh: int

    def minutes(self, start: tuple[float, float] | None, before: UUID | None, to: UUID) -> int:
        """From a house, or from where the crew starts; 0 when nobody said where they are."""
        if (before, to) in self.given:
            return self.given[before, to]
        if before is not None and (to, before) in self.given:
            return self.given[to, before]
        begins = start
        if before:
            begins = self.sites.get(before)
        if begins is None or to not in self.sites:
            return 0
        return pure.straight_minutes(begins, self.sites[to], self.speed_kmh)


def drives_of(shop: Shop, rules: WorkRules) -> Drives:
    """The driving times that the shop gave, and where its houses stand."""
    rows = DriveTime.objects.filter(shop=shop).values_list("start", "end", "minutes")
    given: dict[tuple[UUID | None, UUID], int] = {}
    for start, end, minutes in rows:
        given[start, end] = minutes
    places = {}
    for site in _sites(shop):
        places[site.job_id] = (site.latitude, site.longitude)
    return Drives(given, places, rules.speed_kmh)


def shop_now(shop: Shop, moment: datetime) -> datetime:
    """A moment as the clock at the shop tells it."""
    return moment.astimezone(ZoneInfo(shop.time_zone))
