"""An independent walk, day by day: what should be told of each job, to whom, and when.

It shares with the product the words of the issue and nothing else: its own state, its own
calendars, its own way of waiting. It steps through quiet hours by the quarter of an hour.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

import holidays

from tests.notifications.year.script import (
    BEGIN,
    DAY,
    END,
    PLACES,
    TICK,
    JobScript,
    Person,
    people,
)

MORNING, EVENING = time(7), time(16)
Told = tuple[str, str, str, datetime]
"""Job or shop, person, reason, and the moment at which it goes out."""
Key = tuple[str, Any]

COVER = ("area released", "cover release withdrawn", "cover date near", "release again")
KINDS = dict.fromkeys(COVER, "cover")


@dataclass
class WalkedInspection:
    """An inspection as the walk sees it."""

    kind: str
    areas: list[str]
    last: str = "asked"
    last_at: datetime = BEGIN
    windows: list[tuple[datetime, datetime]] = field(default_factory=list)

    @property
    def coming(self) -> bool:
        return self.last in ("asked", "booked", "moved", "no_access")


@dataclass
class House:
    """A job as the walk sees it."""

    job: JobScript
    applied: date | None = None
    issued: bool = False
    expires: date | None = None
    began: bool = False
    recorded: bool = False
    looked: dict[str, datetime] = field(default_factory=dict)
    accepted: set[str] = field(default_factory=set)
    called: tuple[str, date, datetime] | None = None
    corrected: datetime | None = None
    lifted: bool = False
    released: dict[str, datetime] = field(default_factory=dict)
    withdrawn: dict[str, datetime] = field(default_factory=dict)
    explained: dict[str, datetime] = field(default_factory=dict)
    inspections: dict[int, WalkedInspection] = field(default_factory=dict)
    hookup: bool = False
    temporary: date | None = None
    finished: bool = False
    final: bool = False
    answered: list[int] = field(default_factory=list)

    def do(self, moment: datetime, act: str, given: dict[str, Any]) -> None:
        """One line of the script."""
        day = moment.astimezone(self.job.zone).date()
        if act == "apply":
            self.applied = day
        elif act == "issue":
            self.issued, self.expires = True, given["expires"]
        elif act == "house":
            self.began = self.recorded = True
        elif act == "look":
            self.looked[given["area"]] = moment
        elif act == "ask":
            self.inspections[given["inspection"]] = WalkedInspection(given["kind"], given["areas"])
        elif act == "happen":
            inspection = self.inspections[given["inspection"]]
            inspection.last, inspection.last_at = given["what"], moment
            if "window" in given:
                inspection.windows.append(given["window"])
        elif act == "answer":
            self._answer(moment, given)
        elif act == "correct":
            self.corrected = moment
        elif act == "release":
            self.released[given["area"]] = moment
        elif act == "withdraw":
            del self.released[given["area"]]
            self.withdrawn[given["area"]] = moment
        elif act == "explain":
            self.explained[given["area"]] = moment
        elif act == "hookup":
            self.hookup, self.temporary = True, given["until"]
        elif act == "temporary gone":
            self.temporary = None
        elif act == "finish":
            self.finished = True
        elif act == "certificate":
            self.final = True

    def _answer(self, moment: datetime, given: dict[str, Any]) -> None:
        inspection = self.inspections[given["inspection"]]
        inspection.last, inspection.last_at = "held", moment
        if given["kind"] == "final":
            self.answered.append(given["inspection"])
            return
        self.accepted |= set(given["areas"])
        if given.get("called"):
            self.called = (given["called"], given["due"], moment)
        if given.get("lifted"):
            self.lifted = True

    def at(self, day: date, hour: time = MORNING) -> datetime:
        return datetime.combine(day, hour, self.job.zone).astimezone(UTC)


def standing(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    """What somebody should be told at that moment: key, to whom, whether it is urgent."""
    yield from _permit(house, now)
    yield from _areas(house, now)
    yield from _called(house, now)
    for number, inspection in house.inspections.items():
        yield from _inspection(house, now, number, inspection)
    yield from _board(house, now)
    yield from _end(house, now)


def _permit(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    if house.applied and not house.issued and now >= house.at(house.applied + 14 * DAY):
        yield ("permit not issued", 0), "office", False
    if house.began and not house.issued:
        yield ("work without permit", 0), "office lead", False
    if house.expires and not house.final:
        ends = house.expires
        marks = [house.at(ends - n * DAY) for n in (30, 14, 7)]
        marks.append(house.at(ends + DAY, time()))
        for number in range(3):
            if marks[number] <= now < marks[number + 1]:
                yield ("permit expiring", number), "office", False


def _area_waits(house: House, area: str) -> bool:
    """No inspection for it is on its way."""
    return not any(
        v.coming and v.kind == "rough_in" and area in v.areas for v in house.inspections.values()
    )


def _areas(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    today = now.astimezone(house.job.zone).date()
    good = house.issued and (house.expires is None or today <= house.expires)
    for area in ("east", "west"):
        seen = house.looked.get(area)
        if seen and good and area not in house.accepted and _area_waits(house, area):
            yield ("rough-in ready", (area, seen)), "office", False
        if area in house.released:
            yield ("area released", (area, house.released[area])), "builder office", False
        elif area in house.withdrawn:
            since = house.withdrawn[area]
            board = house.job.drywall_on
            near = board is None or board <= since.astimezone(house.job.zone).date()
            yield ("cover release withdrawn", (area, since)), "builder lead office", near
            if area in house.explained:
                yield ("release again", (area, house.explained[area])), "office", False


def _called(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    if house.called is None or house.lifted:
        return
    area, due, _ = house.called
    if house.corrected:
        if _area_waits(house, area):
            yield ("re-inspection not booked", house.corrected), "office", False
        return
    yield ("deficiency called", 0), "lead office", False
    if house.at(due - 2 * DAY) <= now < house.at(due + DAY, time()):
        yield ("deficiency due", 0), "lead office", False
    if now >= house.at(due + DAY):
        yield ("deficiency overdue", 0), "lead office", False


ALL = "office lead builder"


def _inspection(
    house: House, now: datetime, number: int, inspection: WalkedInspection
) -> Iterator[tuple[Key, str, bool]]:
    since = inspection.last_at
    if inspection.last in ("booked", "moved"):
        starts, ends = inspection.windows[-1]
        near = inspection.last == "moved" and _near(inspection)
        if now < ends:
            word = "rescheduled" if inspection.last == "moved" else inspection.last
            yield (f"inspection {word}", (number, since)), ALL, near
        eve = house.at(starts.astimezone(house.job.zone).date() - DAY, EVENING)
        if max(eve, since) <= now < starts:
            yield ("inspection tomorrow", (number, since)), ALL, False
    elif inspection.last == "cancelled":
        yield ("inspection cancelled", number), ALL, _near(inspection)
    elif inspection.last == "no_access":
        yield ("no access", (number, since)), ALL, False
    elif inspection.last == "held":
        yield ("result recorded", number), ALL, False


def _near(inspection: WalkedInspection) -> bool:
    since = inspection.last_at  # what happens at a tick happens a little after it
    return any(since < ends and starts - since <= DAY for starts, ends in inspection.windows[-2:])


def _board(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    board = house.job.drywall_on
    if board is None:
        return
    held = [area for area in ("east", "west") if area not in house.released]
    if house.recorded and held:
        marks = [house.at(board - n * DAY) for n in (3, 1)] + [house.at(board + DAY)]
        for number in range(2):
            if marks[number] <= now < marks[number + 1]:
                yield ("cover date near", number), ALL, False
    if house.final:
        return
    if not house.recorded or any(_area_waits(house, area) for area in held):
        last = last_day(house.job, board)
        if house.at(last) <= now < house.at(last + DAY, time()):
            yield ("last day to ask", 0), "office", False


def last_day(job: JobScript, board: date) -> date:
    """The last working day, with its notice before the last working day before drywall."""
    place = PLACES[job.place]
    closed = holidays.country_holidays(place.country, subdiv=place.region)

    def back(day: date) -> date:
        day -= DAY
        while day.weekday() > 4 or day in closed:
            day -= DAY
        return day

    day = back(board)
    for _ in range(place.notice_days):
        day = back(day)
    return day


def _end(house: House, now: datetime) -> Iterator[tuple[Key, str, bool]]:
    if house.hookup:
        yield ("hookup authorised", 0), ALL, False
        if house.temporary:
            week, last = house.at(house.temporary - 7 * DAY), house.at(house.temporary)
            if now >= week:
                yield ("temporary removal due", int(now >= last)), "office lead", False
        coming = any(v.coming and v.kind == "final" for v in house.inspections.values())
        if len(house.released) == 2 and not house.finished:
            yield ("finish ready", 0), "office lead", False
        if len(house.released) == 2 and house.finished and not house.final and not coming:
            yield ("final ready", 0), "office", False
    for number in house.answered:
        yield ("accepted", number), ALL, False
    if house.final:
        yield ("certificate in", 0), ALL, False


def quiet(person: Person, moment: datetime) -> bool:
    """Whether the person is not to be told then."""
    if person.quiet is None:
        return False
    begins, ends = person.quiet
    clock = moment.astimezone(ZoneInfo(person.zone)).time()
    return clock >= begins or clock < ends


def goes_at(person: Person, moment: datetime, urgent: bool) -> datetime:
    """When the person is told of what is due at that moment, a quarter of an hour at a time."""
    if urgent:
        return moment
    if person.digest is not None:
        moment += TICK
        while moment.astimezone(ZoneInfo(person.zone)).time() != person.digest:
            moment += TICK
    while quiet(person, moment):
        moment += TICK
    return moment


def moments(job: JobScript) -> list[datetime]:
    """When anything may change: what is recorded, midnight, morning and evening of every day."""
    opened = job.acts[0][0]
    found = {moment for moment, _, _ in job.acts}
    day = BEGIN.astimezone(job.zone).date()
    while day <= END.date():
        for hour in (time(), MORNING, EVENING):
            moment = datetime.combine(day, hour, job.zone).astimezone(UTC)
            if opened <= moment < END:
                found.add(moment)
        day += DAY
    for _, act, given in job.acts:
        if act == "happen" and "window" in given:
            found |= set(given["window"])
    return sorted(found)


def audience(job: JobScript, words: str) -> Iterable[Person]:
    """Who is meant."""
    for person in people(job.place):
        if (
            (person.role == "office" and "office" in words)
            or (person.name == f"lead{job.lead}" and "lead" in words)
            or (person.firm == job.firm and "builder" in words)
        ):
            yield person


def walk(job: JobScript) -> list[Told]:
    """Everything that should go out about a job in the year."""
    house, acts = House(job), list(job.acts)
    waiting: dict[tuple[str, Key], datetime] = {}
    told: set[tuple[str, Key]] = set()
    found: list[Told] = []
    now_standing: dict[Key, tuple[str, bool]] = {}

    def send(until: datetime, *, inclusive: bool) -> None:
        for key, at in list(waiting.items()):
            if at < until or (inclusive and at == until):
                del waiting[key]
                if key[1] in now_standing:
                    told.add(key)
                    found.append((job.name, key[0], key[1][0], at))

    for now in moments(job):
        send(now, inclusive=False)
        while acts and acts[0][0] <= now:
            house.do(*acts.pop(0))
        now_standing = {key: (words, urgent) for key, words, urgent in standing(house, now)}
        for key, (words, urgent) in now_standing.items():
            for person in audience(job, words):
                mine = (person.name, key)
                if mine in told or mine in waiting or person.not_told == _kind(key[0]):
                    continue
                waiting[mine] = goes_at(person, now, urgent)
        send(now, inclusive=True)
    send(END, inclusive=False)
    return found


def _kind(reason: str) -> str:
    """What it is about, where somebody wished not to be sent that."""
    return KINDS.get(reason, "any other")


def summaries(place: int) -> list[Told]:
    """The weekly summary of a shop, to its owner on Monday mornings."""
    zone = ZoneInfo(PLACES[place].zone)
    owner = people(place)[0]
    day, found = date(2026, 1, 5), []
    while day.year == 2026:
        at = datetime.combine(day, MORNING, zone).astimezone(UTC)
        found.append((f"shop {place}", owner.name, "weekly summary", goes_at(owner, at, False)))
        day += 7 * DAY
    return [each for each in found if each[3] < END]
