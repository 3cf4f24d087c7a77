"""The last day on which an inspection can be requested if the drywall date is to hold."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from config.messages.message import Joined, Listed, Value, WeekDay
from inspections.models import CONCEALING
from jobs.models import Area
from jobs.planning.inspections import InspectionRules, earliest_inspection
from jobs.planning.working_days import NeverOpen
from notifications.facts import JobFacts
from notifications.messages.inspections import LAST_DAY, LAST_HOUR, WHOLE_ROUGH_IN
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

LOOK_BACK = 45  # days; no notice period is longer
END_OF_DAY = time(16)  # a request without a cut-off is made in office hours


@reason("last day to ask", NoticeKind.INSPECTION)
def last_day_to_ask(facts: JobFacts) -> Iterator[Due]:
    """To the office, on the morning of that day, while an area has no inspection on its way."""
    drywall = facts.job.drywall_on
    if drywall is None or facts.done:
        return
    waiting = _waiting(facts)
    if not waiting and facts.areas:
        return
    rules = facts.job.authority.inspection_rules(facts.zone)
    last = last_day_before(rules, drywall)
    if last is None:
        return
    areas: Value = WHOLE_ROUGH_IN()
    if waiting:
        areas = Listed(tuple(area.name for area in waiting))
    text: Value = LAST_DAY(
        job=str(facts.job),
        day=WeekDay(drywall),
        authority=str(facts.job.authority),
        areas=areas,
    )
    if rules.cut_off:
        text = Joined((text, LAST_HOUR(hour=rules.cut_off)))
    until = facts.midnight(last + timedelta(days=1))
    yield from due_for(facts.office, f"{drywall} {last}", text, facts.morning(last), until=until)


def _waiting(facts: JobFacts) -> list[Area]:
    """The areas that are not released and that no inspection is coming for."""
    waiting: list[Area] = []
    for area in facts.areas:
        if not area.standing.released and not facts.coming(*CONCEALING, area=area):
            waiting.append(area)
    return waiting


def last_day_before(rules: InspectionRules, drywall: date) -> date | None:
    """The last day to ask on so that the inspection is on a day before the drywall's."""
    for ahead in range(1, LOOK_BACK):
        day = drywall - timedelta(days=ahead)
        if rules.calendar.closed_because(day):
            continue  # nobody is there to be asked
        asked = datetime.combine(day, rules.cut_off or END_OF_DAY, rules.zone)
        try:
            if earliest_inspection(rules, asked).starts.date() < drywall:
                return day
        except NeverOpen:
            return None
    return None
