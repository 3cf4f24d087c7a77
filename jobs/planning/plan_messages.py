"""What plans are told in: days, parts of days, houses with their work, and how long that takes."""

from datetime import date, time
from typing import Protocol

from config.messages.message import Message, Text, Value, WeekDay, message

from . import measure

AT_HOUSE = message("plan.at-house", "{house}: {what}")
MORNING = message("plan.morning", "{day}, morning")
AFTERNOON = message("plan.afternoon", "{day}, afternoon")
AT_HOUR = message("plan.at-hour", "{day}, {hour}")

ROUGH_IN = message("plan.rough-in", "rough-in, {area}")
CORRECTIONS = message("plan.corrections", "corrections, {area}")
PANEL = message("plan.panel", "panel and grounding")
HOOKUP = message("plan.hookup", "hookup")
COVER = message("plan.cover", "cover by other trades, {area}")
FINISH = message("plan.finish", "finish, {area}")
TRIM_OUT = message("plan.trim-out", "trim-out, {area}")
ENERGIZE = message("plan.energize", "energize and test")
FINAL_WALK = message("plan.final-walk", "final walk")

ROUGH_IN_INSPECTION = message("plan.rough-in-inspection", "rough-in inspection")
ROUGH_IN_INSPECTION_OF = message("plan.rough-in-inspection-of", "rough-in inspection, {areas}")
REINSPECTION = message("plan.reinspection", "reinspection")
REINSPECTION_FEE = message("plan.reinspection-fee", "reinspection, fee {fee}")
HOOKUP_INSPECTION = message("plan.hookup-inspection", "hookup inspection")
FINAL_INSPECTION = message("plan.final-inspection", "final inspection")

DRYWALL_DATE = message("plan.promise.drywall", "drywall date")
FINISH_DATE = message("plan.promise.finish", "finish date")
TRIM_OUT_DATE = message("plan.promise.trim-out", "trim-out date")
FINAL_DATE = message("plan.promise.final", "final date")
CORRECTED_DATE = message("plan.promise.corrections", "correction date, {area}")
OWN_DATE = message("plan.promise.own", "due date of {task}")

WORKING_DAYS = message("plan.working-days", "{n} working days", one="{n} working day", count="n")
HOURS = message("plan.hours", "{n} hours", one="{n} hour", count="n")
NOTICE = message("plan.notice", "{authority} requires {spans} of notice.")

NO_HOUSE = message("plan.no-house", "{job}: no house is recorded, so its work is not in the plan.")
NOT_IN_WEEKS = message("plan.not-in-weeks", "{what}: does not fit in these weeks.")

MOVED = message("plan.moved", "{what}: {before} → {after}")
CREW_WHEN = message("plan.crew-when", "{crew}, {when}")
NOT_PLANNED = message("plan.not-planned", "not planned")
ANOTHER_TRADE = message("plan.another-trade", "another trade")

LEVELS = {
    measure.LATE: message("plan.level.late", "Days late, weighted"),
    measure.LEFT: message("plan.level.left", "Not in these weeks"),
    measure.MISSED: message("plan.level.missed", "Booked inspections missed"),
    measure.CHANGED: message("plan.level.changed", "Changes from the plan that was sent"),
    measure.DRIVEN: message("plan.level.driven", "Minutes of driving"),
}
"""What a plan is measured by, by the name that is kept of it."""


def part_of_day(day: date, part: int, parts: int, starts: time) -> Value:
    """A day, and which part of it where there are several."""
    if parts == 1:
        return WeekDay(day)
    if parts == 2:
        half: Message = (MORNING, AFTERNOON)[part]
        return half(day=WeekDay(day))
    return AT_HOUR(day=WeekDay(day), hour=starts)


def promise_name(what: str, trim_out: bool) -> Text:
    """A date that was promised, by its key in a house; the finish as the trade there calls it."""
    if what == "drywall":
        return DRYWALL_DATE()
    if what == "final":
        return FINAL_DATE()
    return TRIM_OUT_DATE() if trim_out else FINISH_DATE()


class _AtHouse(Protocol):
    """Whatever is named and may be of a house."""

    @property
    def name(self) -> Value: ...
    @property
    def house_name(self) -> str: ...


def full_name(each: _AtHouse) -> Value:
    """Work, an inspection or a promise by its house; by itself where no house is named."""
    if each.house_name:
        return AT_HOUSE(house=each.house_name, what=each.name)
    return each.name
