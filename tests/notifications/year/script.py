"""The script: who there is, and what is recorded of each job when. Drawn from a seed."""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

TICK = timedelta(minutes=15)
BEGIN, END = datetime(2026, 1, 1, tzinfo=UTC), datetime(2027, 1, 1, tzinfo=UTC)
DAY = timedelta(days=1)


@dataclass(frozen=True)
class Person:
    """Somebody with their own clock and wishes."""

    name: str
    role: str
    firm: int = -1
    zone: str = ""
    quiet: tuple[time, time] | None = None
    digest: time | None = None
    not_told: str = ""
    """A kind of notice that they do not wish to be sent."""


@dataclass(frozen=True)
class Place:
    """A shop: its zone, its authority's holidays and notice."""

    zone: str
    country: str
    region: str
    notice_days: int


PLACES = [
    Place("America/Edmonton", "CA", "AB", 1),
    Place("America/St_Johns", "CA", "NL", 2),
    Place("America/Los_Angeles", "US", "CA", 1),
    Place("Australia/Sydney", "AU", "NSW", 2),  # whose clocks change the other way round
]


def people(place: int) -> list[Person]:
    """Ten people a shop."""
    zone, other = PLACES[place].zone, PLACES[(place + 1) % 4].zone
    night, long_night = (time(21), time(6, 30)), (time(18), time(8))
    return [
        Person("office", "office", zone=zone),
        Person("office2", "office", zone=zone, digest=time(17)),
        Person("lead0", "crew_lead", zone=zone, quiet=night),
        Person("lead1", "crew_lead", zone=other, quiet=night),
        Person("lead2", "crew_lead", zone=zone),
        Person("member", "crew_member", zone=zone),
        Person("builder0", "builder", 0, zone, night, time(5)),
        Person("builder0b", "builder", 0, zone, not_told="cover"),
        Person("builder1", "builder", 1, other, long_night),
        Person("builder1b", "builder", 1, zone, digest=time(12, 15)),
    ]


@dataclass
class JobScript:
    """One job: what is known of it from the start, and what is recorded when."""

    place: int
    number: int
    lead: int
    firm: int
    drywall_on: date | None
    acts: list[tuple[datetime, str, dict[str, Any]]] = field(default_factory=list)

    @property
    def name(self) -> str:
        """As it is called in every text."""
        return f"Lot {self.place}-{self.number}"

    @property
    def zone(self) -> ZoneInfo:
        """The clock at the house."""
        return ZoneInfo(PLACES[self.place].zone)


class Writer:
    """Writes a job's script from left to right, in office hours at the house."""

    def __init__(self, job: JobScript, chance: random.Random, start: date) -> None:
        self.job, self.chance, self.day = job, chance, start
        self.last = datetime.min.replace(tzinfo=UTC)
        self.inspection = 0

    def act(self, name: str, least: int = 0, most: int = 3, **given: Any) -> datetime:
        """One thing, so many days after the last one."""
        self.day += timedelta(days=self.chance.randint(least, most))
        while True:
            hour = time(self.chance.randint(8, 16), self.chance.choice([0, 15, 30, 45]))
            moment = datetime.combine(self.day, hour, self.job.zone).astimezone(UTC)
            if moment > self.last:
                break
            self.day += DAY
        return self.put(moment, name, **given)

    def put(self, moment: datetime, name: str, **given: Any) -> datetime:
        """One thing at that moment."""
        self.last = moment
        self.day = moment.astimezone(self.job.zone).date()
        self.job.acts.append((moment, name, given))
        return moment

    def window(self, least: int, most: int) -> tuple[datetime, datetime]:
        """A window some days ahead."""
        day = self.day + timedelta(days=self.chance.randint(least, most))
        starts = datetime.combine(day, time(9), self.job.zone).astimezone(UTC)
        return starts, starts + timedelta(hours=2)

    def inspection_of(self, kind: str, areas: list[str], **answer: Any) -> None:
        """An inspection from the asking to the answer, with what may come between."""
        self.inspection += 1
        number = self.inspection
        self.act("ask", 0, 3, kind=kind, areas=areas, inspection=number)
        starts, ends = self.window(2, 6)
        self.act("happen", 0, 0, inspection=number, what="booked", window=(starts, ends))
        turn = self.chance.random()
        if turn < 0.15:
            starts, ends = self.window(2, 8)
            self.act("happen", 0, 1, inspection=number, what="moved", window=(starts, ends))
        elif turn < 0.25:
            self.act("happen", 0, 1, inspection=number, what="cancelled")
            self.inspection_of(kind, areas, **answer)
            return
        elif turn < 0.35:
            self.put(
                max(starts + TICK, self.last + TICK), "happen", inspection=number, what="no_access"
            )
            starts, ends = self.window(1, 4)
            self.act("happen", 0, 0, inspection=number, what="moved", window=(starts, ends))
        moment = max(starts + 5 * TICK, self.last + TICK)
        self.put(moment, "answer", inspection=number, kind=kind, areas=areas, **answer)


def job_script(place: int, number: int, chance: random.Random) -> JobScript:
    """One job of the year."""
    start = date(2026, 1, 2) + timedelta(days=chance.randint(0, 230))
    board = start + timedelta(days=chance.randint(40, 75)) if chance.random() < 0.8 else None
    job = JobScript(place, number, chance.randint(0, 2), chance.randint(0, 1), board)
    write = Writer(job, chance, start)
    write.act("open", 0, 0)
    write.act("apply", 0, 3)
    early = chance.random() < 0.2
    if early:
        write.act("house", 1, 6)
    stalls = chance.random() < 0.2
    expires = start + timedelta(days=chance.randint(50, 120)) if stalls else None
    write.act("issue", 2, 25, expires=expires)
    if not early:
        write.act("house", 1, 6)
    write.act("look", 1, 3, area="east")
    write.act("look", 1, 3, area="west")
    if not stalls:
        _through(write, chance)
    job.acts = [act for act in job.acts if act[0] < END - 5 * DAY]
    return job


def _through(write: Writer, chance: random.Random) -> None:
    """From the first inspection to the certificate."""
    called = chance.random() < 0.4
    due = write.day + timedelta(days=20) if called else None
    write.inspection_of("rough_in", ["east", "west"], called="west" if called else "", due=due)
    if called:
        write.act("correct", 1, 14)
        write.inspection_of("rough_in", ["west"], lifted=True)
    write.act("release", 0, 2, area="east")
    write.act("release", 0, 2, area="west")
    if chance.random() < 0.3:
        write.act("withdraw", 0, 12, area="east")
        write.act("explain", 0, 2, area="east")
        write.act("release", 1, 3, area="east")
    until = write.day + timedelta(days=20) if chance.random() < 0.5 else None
    write.act("hookup", 1, 9, until=until)
    if until:
        write.act("temporary gone", 8, 25)
    write.act("finish", 3, 12)
    write.inspection_of("final", [])
    write.act("certificate", 0, 4)


def scripts(jobs_each: int, seed: int = 7) -> Iterator[JobScript]:
    """So many jobs in each of the four shops."""
    chance = random.Random(seed)
    for place in range(4):
        for number in range(jobs_each):
            yield job_script(place, number, chance)
