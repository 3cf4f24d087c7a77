"""The last day on which an inspection can be asked for if the drywall date is to hold."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from inspections.models import CONCEALING
from jobs.models import Area
from jobs.planning.inspections import InspectionRules, earliest_inspection
from jobs.planning.working_days import NeverOpen
from notifications.facts import JobFacts
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

LOOK_BACK = 45  # days; no notice period is longer
END_OF_DAY = time(16)  # a request without a cut-off is made in office hours


@reason("last day to ask", NoticeKind.INSPECTION)
def last_day_to_ask(facts: JobFacts) -> Iterator[Due]:
    """To the office, on the morning of that day, while an area has no inspection on its way."""
    board = facts.job.drywall_on
    if board is None or facts.done:
        return
    waiting = _waiting(facts)
    if not waiting and facts.areas:
        return
    rules = facts.job.authority.inspection_rules(facts.zone)
    last = last_day_before(rules, board)
    if last is None:
        return
    names = ", ".join(area.name for area in waiting) or "the rough-in"
    hour = ""
    if rules.cut_off:
        hour = f" before {rules.cut_off:%H:%M}"
    text = (
        f"{facts.job}, {names}: drywall is due on {board}. Today{hour} is the last time to ask "
        f"{facts.job.authority} for a visit before it."
    )
    until = facts.midnight(last + timedelta(days=1))
    yield from due_for(facts.office, f"{board} {last}", text, facts.morning(last), until=until)


def _waiting(facts: JobFacts) -> list[Area]:
    """The areas that are not released and that no inspection is coming for."""
    waiting: list[Area] = []
    for area in facts.areas:
        if not area.standing.released and not facts.coming(*CONCEALING, area=area):
            waiting.append(area)
    return waiting


def last_day_before(rules: InspectionRules, board: date) -> date | None:
    """The last day to ask on so that the inspection is on a day before the board's."""
    for ahead in range(1, LOOK_BACK):
        day = board - timedelta(days=ahead)
        if rules.calendar.closed_because(day):
            continue  # nobody is there to be asked
        asked = datetime.combine(day, rules.cut_off or END_OF_DAY, rules.zone)
        try:
            if earliest_inspection(rules, asked).starts.date() < board:
                return day
        except NeverOpen:
            return None
    return None
