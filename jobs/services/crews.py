"""Writes of crews, skills, absences, places and promises: one use each, the actor first."""

import csv
from collections.abc import Mapping
from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Text
from jobs.access import SITE_ROLES, require_role, role_in
from jobs.bounds_refused import refuse_outside, refuse_span
from jobs.models import (
    Absence,
    Area,
    Crew,
    CrewPlace,
    DriveTime,
    Job,
    OwnTask,
    Person,
    PersonSkill,
    PromisedDate,
    Role,
    Shop,
    Site,
    Skill,
    WorkReport,
    WorkRules,
)
from jobs.moments import ANY_DAY
from jobs.services import refusal_messages as words

LONGEST_FILE = 1_000_000  # characters
LONGEST_DRIVE = 600  # minutes


@transaction.atomic
def work_rules_change(actor: Person, *, shop: Shop, **given: Any) -> WorkRules:
    """How the shop works: days, hours, rates, ratio, speed."""
    require_role(actor, shop, Role.OFFICE)
    rules = WorkRules.objects.filter(shop=shop).first() or WorkRules(shop=shop)
    for name, value in given.items():
        setattr(rules, name, value)
    rules.full_clean()
    rules.save()
    return rules


@transaction.atomic
def crew_open(
    actor: Person,
    *,
    shop: Shop,
    name: str,
    lead: Person | None = None,
    people: Mapping[Person, date] | None = None,
    latitude: float | None = None,
    longitude: float | None = None,
) -> Crew:
    """A new crew, with its people and the day from which each is in it."""
    require_role(actor, shop, Role.OFFICE)
    crew = Crew(shop=shop, name=name, lead=lead, latitude=latitude, longitude=longitude)
    if lead is not None:
        _of_the_shop(lead, shop)
    crew.full_clean()
    crew.save()
    for person, first in (people or {}).items():
        crew_place(actor, crew=crew, person=person, from_day=first)
    return crew


@transaction.atomic
def crew_change(actor: Person, *, crew: Crew, **given: Any) -> Crew:
    """Another name, lead or start; or the day from which it is no longer a crew."""
    require_role(actor, crew.shop, Role.OFFICE)
    stood_down_on = (ANY_DAY, given.get("stood_down_on"))
    refuse_outside(timezone.now(), crew.shop.time_zone, stood_down_on=stood_down_on)
    for name, value in given.items():
        setattr(crew, name, value)
    if crew.lead is not None:
        _of_the_shop(crew.lead, crew.shop)
    crew.full_clean()
    crew.save()
    return crew


@transaction.atomic
def crew_place(
    actor: Person, *, crew: Crew, person: Person, from_day: date, to_day: date | None = None
) -> CrewPlace:
    """Put a person in a crew from a day on; where they were before ends for those days."""
    require_role(actor, crew.shop, Role.OFFICE)
    _of_the_shop(person, crew.shop)
    _refuse_days(crew.shop, from_day, to_day)
    place = CrewPlace(crew=crew, person=person, from_day=from_day, to_day=to_day)
    place.full_clean()
    place.save()
    return place


@transaction.atomic
def skill_set(actor: Person, *, shop: Shop, person: Person, skill: Skill, has: bool = True) -> None:
    """Record that a person has a skill, or has it no longer."""
    require_role(actor, shop, Role.OFFICE)
    _of_the_shop(person, shop)
    if has:
        PersonSkill.objects.get_or_create(shop=shop, person=person, skill=Skill(skill))
    else:
        PersonSkill.objects.filter(shop=shop, person=person, skill=skill).delete()


@transaction.atomic
def absence_record(
    actor: Person, *, shop: Shop, person: Person, from_day: date, to_day: date, why: str = ""
) -> Absence:
    """Record that a person is away. The plan stands until the office asks for another."""
    require_role(actor, shop, Role.OFFICE, Role.CREW_LEAD)
    _of_the_shop(person, shop)
    _refuse_days(shop, from_day, to_day)
    absence = Absence(shop=shop, person=person, from_day=from_day, to_day=to_day, why=why)
    absence.full_clean()
    absence.save()
    return absence


@transaction.atomic
def absence_end(actor: Person, *, absence: Absence) -> None:
    """The person is not away after all."""
    require_role(actor, absence.shop, Role.OFFICE, Role.CREW_LEAD)
    absence.delete()


@transaction.atomic
def site_place(actor: Person, *, job: Job, latitude: float, longitude: float) -> Site:
    """Where the house stands."""
    require_role(actor, job.shop, Role.OFFICE)
    site = Site.objects.filter(job=job).first() or Site(job=job)
    site.latitude, site.longitude = latitude, longitude
    site.full_clean()
    site.save()
    return site


@transaction.atomic
def drive_times_load(actor: Person, *, shop: Shop, table: str) -> int:
    """Load driving times: lines of `from,to,minutes`, with job names and `yard`. How many.

    Nothing is written when any line has a fault; the refusal names every line.
    """
    require_role(actor, shop, Role.OFFICE)
    if len(table) > LONGEST_FILE:
        long = words.DRIVES_LONG(most=LONGEST_FILE)
        raise ValidationError({"table": said_later(long)})
    jobs: dict[str, Job | None] = {"yard": None}
    for job in shop.jobs.all():
        jobs[job.name.casefold()] = job
    faults, found = [], {}
    for number, line in enumerate(table.splitlines(), 1):
        try:
            row = _cells(line)
            if row and row != ["from", "to", "minutes"]:
                found.update(_drive(jobs, row))
        except _LineRefused as refused:
            faults.append(said_later(words.DRIVES_LINE(n=number, fault=refused.text)))
    if faults:
        raise ValidationError({"table": faults[:20]})
    for (start, end), minutes in found.items():
        DriveTime.objects.update_or_create(
            shop=shop, start=start, end=end, defaults={"minutes": minutes}
        )
    return len(found)


class _LineRefused(Exception):
    """A line of driving times that says none."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


def _cells(line: str) -> list[str]:
    try:
        return next(csv.reader([line], strict=True), [])
    except csv.Error:
        raise _LineRefused(words.DRIVES_UNREAD()) from None


def _drive(jobs: Mapping[str, Job | None], row: list[str]) -> dict[tuple[Job | None, Job], int]:
    if len(row) != 3:
        raise _LineRefused(words.DRIVES_CELLS())
    start, end, minutes = (cell.strip() for cell in row)
    for name in (start, end):
        if name.casefold() not in jobs:
            raise _LineRefused(words.DRIVES_JOB(name=name))
    if not (minutes.isascii() and minutes.isdigit() and int(minutes) <= LONGEST_DRIVE):
        raise _LineRefused(words.DRIVES_MINUTES(typed=minutes, most=LONGEST_DRIVE))
    begins, ends = jobs[start.casefold()], jobs[end.casefold()]
    if ends is not None:
        return {(begins, ends): int(minutes)}
    if begins is None:
        raise _LineRefused(words.DRIVES_NOWHERE())
    return {(None, begins): int(minutes)}


@transaction.atomic
def own_task_add(
    actor: Person,
    *,
    job: Job,
    name: str,
    minutes: int,
    area: Area | None = None,
    skill: str = "",
    not_before: date | None = None,
    due_on: date | None = None,
) -> OwnTask:
    """Add work to a job by hand."""
    require_role(actor, job.shop, Role.OFFICE)
    if area is not None and area.job_id != job.id:
        raise ValidationError(said_later(words.TASK_AREA()))
    days = {"not_before": (ANY_DAY, not_before), "due_on": (ANY_DAY, due_on)}
    refuse_outside(timezone.now(), job.time_zone, **days)
    if not_before and due_on and due_on < not_before:
        raise ValidationError(said_later(words.TASK_DUE(due=due_on, start=not_before)))
    task = OwnTask(
        job=job,
        area=area,
        name=name,
        minutes=minutes,
        skill=skill,
        not_before=not_before,
        due_on=due_on,
    )
    task.full_clean()
    task.save()
    return task


@transaction.atomic
def date_promise(actor: Person, *, job: Job, what: str, on: date, weight: int = 1) -> PromisedDate:
    """Record a date given to the builder; a later one takes its place."""
    require_role(actor, job.shop, Role.OFFICE)
    refuse_outside(timezone.now(), job.time_zone, on=(ANY_DAY, on))
    promised = PromisedDate.objects.filter(job=job, what=what).first()
    promised = promised or PromisedDate(job=job, what=what)
    promised.on, promised.weight = on, weight
    promised.full_clean()
    promised.save()
    return promised


@transaction.atomic
def work_report(actor: Person, *, job: Job, task: str, done: bool = True) -> WorkReport:
    """Record that a task of a plan is done, or that it is not after all."""
    require_role(actor, job.shop, *SITE_ROLES)
    report = WorkReport(
        job=job, task=task, done=done, recorded_by=actor, recorded_at=timezone.now()
    )
    report.full_clean()
    report.save()
    return report


def _refuse_days(shop: Shop, from_day: date, to_day: date | None) -> None:
    days = {"from_day": (ANY_DAY, from_day), "to_day": (ANY_DAY, to_day)}
    refuse_outside(timezone.now(), shop.time_zone, **days)
    if from_day is not None and to_day is not None:
        refuse_span(from_day, to_day, "to_day")


def _of_the_shop(person: Person, shop: Shop) -> None:
    if role_in(person, shop) not in SITE_ROLES:
        stranger = words.NOT_OF_SHOP(person=str(person), shop=shop.name)
        raise ValidationError(said_later(stranger))
