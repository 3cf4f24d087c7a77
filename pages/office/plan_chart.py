"""The plan as a drawing: crews down, days across. Sizes in pixels of the SVG."""

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from datetime import date, timedelta

from config.languages import say
from config.messages.kept import message_of
from config.messages.message import Text, Value, WeekDay
from inspections.days.selectors import monday
from jobs.models import Job, Plan, PlannedWork
from jobs.moments import day_on_record
from jobs.planning.plan_messages import promise_name
from pages.office.labels import BAR, FLAG, FLAG_LATE, PROMISED_FOR

LEFT, TOP, ROW, DAY = 130, 62, 46, 92
NARROW = 6.2
"""About the width of a letter at the size that bars are lettered."""


@dataclass(frozen=True, slots=True)
class Bar:
    """Work of a crew over some parts of days."""

    x: float
    y: float
    width: float
    house: str
    task: str
    title: Value
    late: bool
    inspection: bool


@dataclass(frozen=True, slots=True)
class Flag:
    """A promised date; a late one has another shape and says so."""

    x: float
    y: float
    text: Value
    title: Value
    late: bool


@dataclass(frozen=True, slots=True)
class Chart:
    """What the template draws."""

    width: float
    height: float
    left: float
    top: float
    rows: Sequence[tuple[float, str]]
    days: Sequence[tuple[float, Value, bool]]
    """Each working day: where, the day, whether a week begins there."""
    bars: Sequence[Bar]
    flags: Sequence[Flag]


def plan_chart(plan: Plan, work: Sequence[PlannedWork], parts: int) -> Chart:
    """The weeks of a plan."""
    days = []
    for day in plan.days:
        days.append(day_on_record(day))
    flags_high = 22 * max(1, min(6, len(_promised(plan, work))))
    pairs = set()
    for row in work:
        if row.crew:
            pairs.add((row.crew.name, row.crew_id))
    crews = sorted(pairs)
    top = TOP + flags_high
    rows = []
    for number, (name, _) in enumerate(crews):
        rows.append((top + number * ROW, name))
    at = {}
    for number, (_, crew) in enumerate(crews):
        at[crew] = top + number * ROW
    late = set()
    for each in plan.late:
        late.add((each["job"], each["what"]))
    bars = []
    for row in work:
        if row.crew_id in at and row.starts_on in days and row.ends_on in days:
            bars.append(_bar(row, days, parts, at[row.crew_id], _waited_for(row, late)))
    return Chart(
        width=LEFT + DAY * len(days) + 10,
        height=top + ROW * max(1, len(crews)) + 12,
        left=LEFT,
        top=top,
        rows=rows,
        days=list(_days(days)),
        bars=bars,
        flags=list(_flags(plan, work, days)),
    )


def _days(days: Sequence[date]) -> Iterator[tuple[float, Value, bool]]:
    week = None
    for number, day in enumerate(days):
        begins, week = monday(day) != week, monday(day)
        yield LEFT + number * DAY, WeekDay(day), begins


def _bar(row: PlannedWork, days: Sequence[date], parts: int, y: float, late: bool) -> Bar:
    first = LEFT + (days.index(row.starts_on) + row.start_part / parts) * DAY
    last = LEFT + (days.index(row.ends_on) + (row.end_part + 1) / parts) * DAY
    first_day, last_day = WeekDay(row.starts_on), WeekDay(row.ends_on)
    what = message_of(row.name)
    title = BAR(job=row.job.name, what=what, first=first_day, last=last_day)
    width = last - first - 3
    room = max(1, int((width - 8) / NARROW))
    if len(row.job.name) <= room:
        house = row.job.name
    else:
        house = f"…{row.job.name[1 - room :]}"
    name = say(what)
    if len(name) <= room:
        task = name
    else:
        task = f"{name[: room - 1]}…"
    return Bar(first + 1, y + 4, width, house, task, title, late, row.kind == "inspection")


def _waited_for(row: PlannedWork, late: Set[tuple[str, str]]) -> bool:
    """Whether a promise that is late waits for this work."""
    job = str(row.job_id)
    before_cover = row.kind in ("rough-in", "correction") or row.task == "inspection/rough-in"
    if before_cover and (job, "drywall") in late:
        return True
    return (job, "final") in late or ((job, "finish") in late and row.task != "inspection/final")


def _promised(plan: Plan, work: Sequence[PlannedWork]) -> list[tuple[date, Text, bool]]:
    """Drywall dates and other promises of the jobs in the plan, the earliest first."""
    jobs = {}
    for row in work:
        jobs[row.job_id] = row.job
    late = {}
    for each in plan.late:
        late[(each["job"], each["what"])] = each["days"]
    found = []
    for job in jobs.values():
        dates = []
        if job.drywall_on:
            dates = [("drywall", job.drywall_on)]
        for each in job.promised.all():
            dates.append((each.what, each.on))
        for what, day in dates:
            days = late.get((str(job.id), what), 0)
            found.append((day, _flag(job, what, days), bool(days)))
    return sorted(found, key=lambda each: (each[0], say(each[1])))


def _flag(job: Job, what: str, days: int) -> Text:
    """A promise of a job, and by how many working days it is late."""
    promised = promise_name(what, job.authority.country == "US")
    if days:
        return FLAG_LATE(job=job.name, what=promised, n=days)
    return FLAG(job=job.name, what=promised)


def _flags(plan: Plan, work: Sequence[PlannedWork], days: Sequence[date]) -> Iterator[Flag]:
    if not days:
        return
    for number, (day, words, late) in enumerate(_promised(plan, work)):
        if not days[0] - timedelta(days=21) <= day <= days[-1]:
            continue
        before = 0
        for each in days:
            if each < day:
                before += 1
        y = TOP + 22 * (number % 6) - 8
        title = PROMISED_FOR(flag=words, day=WeekDay(day))
        yield Flag(LEFT + before * DAY, y, words, title, late)
