"""What is on record and cannot be: contradictions, moments out of bounds, a broken record."""

from datetime import date, datetime, timedelta
from typing import Any

from audit.found import Sort
from inspections.models import (
    Acceptance,
    Deficiency,
    HouseRevision,
    Inspection,
    InspectionEvent,
    JobAnswer,
    JobStanding,
    MilestoneReached,
    Observation,
    RecordEntry,
)
from jobs.models import Job, Permit, Shop
from tests.audit.holes import hole
from tests.audit.world import BEGIN, HOUR, World, editable

DAY = timedelta(days=1)


def _inspection(world: World, kind: str = "rough_in") -> Inspection:
    """An inspection of the job, as nobody asked for it."""
    given = {"job": world.job, "kind": kind, "asked_at": BEGIN, "asked_by": world.shop.office}
    inspection = Inspection.objects.create(**given)
    if kind == "rough_in":
        inspection.areas.add(world.east)
    return inspection


def _happens(world: World, inspection: Inspection, happening: str, **given: Any) -> InspectionEvent:
    given = {"recorded_by": world.shop.office, "recorded_at": BEGIN + HOUR} | given
    return InspectionEvent.objects.create(inspection=inspection, happening=happening, **given)


def _booked(
    world: World, inspection: Inspection, starts: datetime, **given: Any
) -> InspectionEvent:
    ends = given.pop("ends", starts + HOUR)
    return _happens(world, inspection, "booked", starts_at=starts, ends_at=ends, **given)


def _said(world: World, inspection: Inspection, answer: str) -> None:
    given = {"basis": "inspection", "reference": "R9", "recorded_by": world.shop.office}
    given |= {"answer": answer, "rests_on": "0" * 16, "recorded_at": BEGIN + HOUR}
    Acceptance.objects.create(area=world.east, inspection=inspection, **given)


def _called(world: World, inspection: Inspection) -> None:
    given = {"job": world.job, "area": world.east, "what": "no plate", "called_at": BEGIN + HOUR}
    Deficiency.objects.create(called_at_inspection=inspection, **given)


def _job_said(world: World, inspection: Inspection, answer: str) -> None:
    given = {"reference": "R9", "recorded_by": world.shop.office, "recorded_at": BEGIN + HOUR}
    JobAnswer.objects.create(inspection=inspection, answer=answer, **given)


@hole(
    "accepted with a deficiency",
    "accepted; facts: a deficiency was written up there at that inspection",
)
def accepted_with_a_deficiency(world: World) -> None:
    inspection = _inspection(world)
    _said(world, inspection, "accepted")
    _called(world, inspection)


@hole("with deficiencies, and none is called", "tables: accepted with deficiencies; facts: none")
def without_deficiencies(world: World) -> None:
    _said(world, _inspection(world), "with_deficiencies")


@hole(
    "an answer for an area that the inspection was not for", "the inspection was not for that area"
)
def answer_elsewhere(world: World) -> None:
    _said(world, _inspection(world, "hookup"), "accepted")


@hole("a job accepted with a deficiency", "the job is accepted; facts: a deficiency was written up")
def job_accepted_with_a_deficiency(world: World) -> None:
    inspection = _inspection(world, "finish")
    _job_said(world, inspection, "accepted")
    _called(world, inspection)


@hole("a job accepted with deficiencies, and none is called", "the job is accepted with deficienc")
def job_without_deficiencies(world: World) -> None:
    _job_said(world, _inspection(world, "finish"), "with_deficiencies")


@hole("a final accepted while a deficiency is open", "the final is accepted; facts: defic")
def final_while_open(world: World) -> None:
    _called(world, _inspection(world))
    _job_said(world, _inspection(world, "final"), "accepted")


@hole(
    "an inspection that is booked twice", "inspection is booked; facts: it was booked before that"
)
def booked_twice(world: World) -> None:
    inspection = _inspection(world)
    for hours in (1, 2):
        _booked(world, inspection, BEGIN + 9 * HOUR, recorded_at=BEGIN + hours * HOUR)


@hole(
    "an inspection that was moved before it was booked", "is moved; facts: it was asked for before"
)
def moved_first(world: World) -> None:
    window = {"starts_at": BEGIN + 9 * HOUR, "ends_at": BEGIN + 10 * HOUR}
    _happens(world, _inspection(world), "moved", **window)


@hole(
    "something after an inspection was held",
    "inspection is cancelled; facts: it was held before that",
)
def after_held(world: World) -> None:
    inspection = _inspection(world)
    _booked(world, inspection, BEGIN - HOUR, recorded_at=BEGIN - 2 * HOUR)
    _happens(world, inspection, "held", recorded_at=BEGIN)
    _happens(world, inspection, "cancelled", recorded_at=BEGIN + HOUR)


@hole("an answer before the window began", "inspection is held; facts: that cannot be known before")
def held_early(world: World) -> None:
    inspection = _inspection(world)
    _booked(world, inspection, BEGIN + 2 * HOUR, recorded_at=BEGIN)
    _happens(world, inspection, "held", recorded_at=BEGIN + HOUR)


@hole(
    "nobody came before the window ended", "inspection is nobody_came; facts: that cannot be known"
)
def nobody_came_early(world: World) -> None:
    inspection = _inspection(world)
    _booked(world, inspection, BEGIN, recorded_at=BEGIN)
    _happens(world, inspection, "nobody_came", recorded_at=BEGIN + HOUR / 2)


@hole("a circuit that no panel has", "circuit 'the fridge' may be live; facts: no panel has it")
def strange_circuit(world: World) -> None:
    MilestoneReached.objects.filter(job=world.job).update(circuits=["1", "the fridge"])


@hole("circuits typed before they were chosen", "that was typed", sort=Sort.STATE)
def typed_circuits(world: World) -> None:
    MilestoneReached.objects.filter(job=world.job).update(circuits=["kitchen"], live=None)


@hole("a look of the year 1", "moment: tables: seen at ")
def look_of_the_year_one(world: World) -> None:
    made = world.look("ok", HOUR, HOUR)
    editable("inspections_observation")
    Observation.objects.filter(id=made.id).update(seen_at=datetime(1, 1, 2, tzinfo=BEGIN.tzinfo))


@hole("a look of 9999", "facts: it came at")
def look_of_9999(world: World) -> None:
    made = world.look("fix", HOUR, HOUR)
    editable("inspections_observation")
    late = datetime(9999, 12, 30, tzinfo=BEGIN.tzinfo)
    Observation.objects.filter(id=made.id).update(seen_at=late)


@hole("a window of the year 1", "an inspection is booked from ")
def window_of_the_year_one(world: World) -> None:
    _booked(world, _inspection(world), datetime(1, 1, 2, tzinfo=BEGIN.tzinfo))


@hole("a window that is longer than a month", "a window is at most 31 days")
def long_window(world: World) -> None:
    _booked(world, _inspection(world), BEGIN, ends=BEGIN + 32 * DAY)


@hole("a window years ahead", "a window is at most 31 days, 400 days back and 800 ahead")
def far_window(world: World) -> None:
    _booked(world, _inspection(world), BEGIN + 900 * DAY)


@hole("a permit that expires in 9999", "moment: tables: expires on ")
def expires_9999(world: World) -> None:
    Permit.objects.filter(job=world.job).update(expires_on=date(9999, 12, 31))


@hole("a permit that was applied for before there were any", "applied on 1970-01-01")
def applied_1970(world: World) -> None:
    Permit.objects.filter(job=world.job).update(applied_on=date(1970, 1, 1))


@hole("a hookup of a day to come", "reached on 2031-01-01")
def reached_ahead(world: World) -> None:
    MilestoneReached.objects.filter(job=world.job).update(reached_on=date(2031, 1, 1))


@hole("a deficiency that is due in 9999", "moment: tables: due on ")
def due_9999(world: World) -> None:
    Deficiency.objects.filter(job=world.job).update(due_on=date(9999, 12, 31))


@hole("an entry of the record that was altered", "record: tables: entry 3 (house recorded) was")
def altered(world: World) -> None:
    editable("inspections_recordentry")
    RecordEntry.objects.filter(job=world.job, number=3).update(origin="elsewhere")


@hole("an entry of the record that is gone", "record: tables: entry 2 is missing")
def gone(world: World) -> None:
    editable("inspections_recordentry")
    RecordEntry.objects.filter(job=world.job, number=2).delete()


@hole("the last entries of the record that are gone", "and 3 were written")
def cut_off(world: World) -> None:
    editable("inspections_recordentry")
    RecordEntry.objects.filter(job=world.plain, number=3).delete()


@hole("an entry of the record that nobody counted", "it ends at entry 3, and 2 were written")
def uncounted(world: World) -> None:
    second = RecordEntry.objects.get(job=world.plain, number=2)
    JobStanding.objects.filter(job=world.plain).update(
        record_number=2, record_chain=second.chain, facts=2, settled=2
    )


@hole("a house that is not the one recorded", "it is not the house that was recorded")
def another_house(world: World) -> None:
    editable("inspections_houserevision")
    revision = HouseRevision.objects.get(job=world.plain)
    HouseRevision.objects.filter(id=revision.id).update(house=f"{revision.house} ")


@hole("a zone that no clock knows", "reading: tables: ZoneInfoNotFoundError")
def no_zone(world: World) -> None:
    Job.objects.filter(id=world.job.id).update(time_zone="Nowhere/Land")


@hole("a house that cannot be read", "reading: tables: JSONDecodeError")
def no_house(world: World) -> None:
    editable("inspections_houserevision")
    HouseRevision.objects.filter(job=world.job).update(house="no house at all")


@hole("trades that are no list", "reading: tables: TypeError")
def no_list(world: World) -> None:
    Shop.objects.filter(id=world.shop.shop.id).update(trades=7)
