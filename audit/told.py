"""What must have been told, from single facts on record: to whom, from when, until when. Pure.

A kind of notice that follows from one recorded fact is drawn here once more. Those that follow from
the calendar, or from several facts together, are not: of them the auditor knows only what is true
of every notice (`notices.py`).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from audit.tables import JobTables, Row

NEWS = timedelta(days=7)
"""For so long a fact is news; after that nobody is told who was not."""
ENDINGS = ("finish", "final")
LAST = {
    "booked": "inspection booked",
    "moved": "inspection rescheduled",
    "cancelled": "inspection cancelled",
}
LAST |= {"no_access": "no access", "nobody_came": "nobody came", "held": "result recorded"}
"""What is told of an inspection, by what last happened to it."""
DRAWN = frozenset(
    {
        *LAST.values(),
        *("area released", "cover release withdrawn", "deficiency called"),
        *("accepted", "hookup authorised", "certificate in"),
    }
)


@dataclass(frozen=True, slots=True)
class JobPeople:
    """Who has to do with a job: ids of those who are active and in its shop."""

    office: frozenset[UUID]
    leads: frozenset[UUID]
    builder: frozenset[UUID]

    @property
    def office_leads_and_builder(self) -> frozenset[UUID]:
        """All of them."""
        return self.office | self.leads | self.builder


@dataclass(frozen=True, slots=True)
class Telling:
    """One thing that people must have been told."""

    reason: str
    occasion: str
    to: frozenset[UUID]
    at: datetime
    until: datetime
    area_id: UUID | None = None

    def stands(self, now: datetime) -> bool:
        """Whether it is to be told at that moment."""
        return self.at <= now < self.until


def people_of(tables: JobTables, members: list[Row]) -> JobPeople:
    """Who has to do with a job, of the members of its shop."""
    by_role: dict[str, set[UUID]] = {"office": set(), "crew_lead": set()}
    builders = set()
    everybody = set()
    for each in members:
        everybody.add(each.person_id)
        by_role.setdefault(each.role, set()).add(each.person_id)
        if each.role == "builder" and each.builder_id == tables.job.builder_id:
            builders.add(each.person_id)
    leads = by_role["crew_lead"]
    if tables.job.crew_lead_id in everybody:
        leads = {tables.job.crew_lead_id}
    return JobPeople(frozenset(by_role["office"]), frozenset(leads), frozenset(builders))


def tellings(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    """Everything that single facts of a job make worth telling, or made so once."""
    yield from _cover_releases(tables, people)
    yield from _deficiencies(tables, people)
    yield from _inspections(tables, people)
    yield from _answers(tables, people)
    yield from _milestones(tables, people)


def _cover_releases(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    live = set()
    for each in tables.cover_releases:
        if each.withdrawn_at is None:
            live.add(each.area_id)
    for each in tables.cover_releases:
        at, to = each.issued_at, people.builder | people.office
        if each.withdrawn_at is None:
            yield Telling("area released", str(each.id), to, at, _later(at), each.area_id)
        elif each.area_id not in live:
            at, to = each.withdrawn_at, people.office_leads_and_builder
            yield Telling("cover release withdrawn", str(each.id), to, at, _later(at), each.area_id)


def _deficiencies(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    for each in tables.deficiencies:
        if each.corrected_at is None:
            at, to = each.called_at, people.leads | people.office
            yield Telling("deficiency called", str(each.id), to, at, _later(at), each.area_id)


def _inspections(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    for inspection in tables.inspections:
        events = []
        for each in tables.events:
            if each.inspection_id == inspection.id:
                events.append(each)
        if not events:
            continue
        last, until = events[-1], _later(events[-1].recorded_at)
        if last.happening in ("booked", "moved"):
            until = min(until, last.ends_at or until)
        elif last.happening == "cancelled" and all(each.starts_at is None for each in events):
            continue  # it was never booked, so nobody kept it free
        reason = LAST[last.happening]
        yield Telling(
            reason, str(last.id), people.office_leads_and_builder, last.recorded_at, until
        )


def _answers(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    kinds = {}
    for inspection in tables.inspections:
        kinds[inspection.id] = inspection.kind
    for said in tables.job_answers:
        if kinds[said.inspection_id] in ENDINGS and said.answer != "not_accepted":
            at, to = said.recorded_at, people.office_leads_and_builder
            yield Telling("accepted", str(said.inspection_id), to, at, _later(at))


def _milestones(tables: JobTables, people: JobPeople) -> Iterator[Telling]:
    reasons = {"hookup": "hookup authorised", "final": "certificate in"}
    for each in tables.milestones:
        if each.milestone in reasons:
            at, to, reason = (
                each.recorded_at,
                people.office_leads_and_builder,
                reasons[each.milestone],
            )
            yield Telling(reason, str(each.id), to, at, _later(at))


def _later(at: datetime) -> datetime:
    """Until when it is news; the end of the calendar where that comes first."""
    try:
        return at + NEWS
    except OverflowError:
        return at
