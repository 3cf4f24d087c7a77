"""What is on record and cannot be: answers against their deficiencies, visits out of order, moments
out of bounds, circuits that no panel has.

Services refuse all of these. What was recorded before they did is a state, since nobody can take a
fact back; what was recorded since came by a way that should not be there.
"""

import json
from collections.abc import Iterable, Iterator
from datetime import date, datetime

from audit.found import About, Found, Sort
from audit.record import RecordRead
from audit.tables import JobTables, Row
from audit.times import Given, window_fits

MAY_FOLLOW: dict[str | None, set[str]] = {
    None: {"booked", "cancelled"},
    "booked": {"moved", "held", "no_access", "nobody_came", "cancelled"},
    "moved": {"moved", "held", "no_access", "nobody_came", "cancelled"},
    "no_access": {"moved"},
}
"""What may happen to a visit after what; None: it is asked for, and after the rest nothing may."""


def compare_facts(tables: JobTables, record: RecordRead, since: datetime | None) -> Iterator[Found]:
    """What is on record and cannot be. `since` is when services began to refuse it."""
    for at, about, says, facts, area_id in _all(tables, record):
        sort = Sort.STATE if since is not None and at < since else Sort.DIFFERENCE
        area = next((area.name for area in tables.areas if area.id == area_id), "")
        yield Found(sort, about, says, facts, area)


Contradiction = tuple[datetime, About, str, str, object]
"""When it was recorded, what it is about, what is recorded, why it cannot be, and where."""


def _all(tables: JobTables, record: RecordRead) -> Iterator[Contradiction]:
    yield from _answers(tables)
    yield from _visits(tables)
    yield from _circuits(tables)
    yield from _moments(tables, record)


def _answers(tables: JobTables) -> Iterator[Contradiction]:
    about = About.CONTRADICTION
    called = {(d.called_at_visit_id, d.area_id) for d in tables.deficiencies}
    visits = {visit for visit, _ in called}
    covered = {(each.inspection_id, each.area_id) for each in tables.visit_areas}
    for said in tables.acceptances:
        here = (said.inspection_id, said.area_id)
        at, area = said.recorded_at, said.area_id
        if said.answer == "accepted" and here in called:
            yield at, about, "accepted", "a deficiency was called there at that visit", area
        if said.answer == "with_deficiencies" and here not in called:
            yield at, about, "accepted with deficiencies", "none was called there", area
        if said.inspection_id is not None and here not in covered:
            yield at, about, f"{said.answer} at a visit", "the visit was not for that area", area
    for said in tables.job_answers:
        at, visit = said.recorded_at, said.inspection_id
        if said.answer == "accepted" and visit in visits:
            yield at, about, "the job is accepted", "a deficiency was called at that visit", None
        if said.answer == "with_deficiencies" and visit not in visits:
            yield at, about, "the job is accepted with deficiencies", "none was called", None


def _visits(tables: JobTables) -> Iterator[Contradiction]:
    for visit in tables.visits:
        last, begins = None, None
        for event in tables.events:
            if event.inspection_id != visit.id:
                continue
            at, now = event.recorded_at, event.happening
            if now not in MAY_FOLLOW.get(last, set()):
                was = last or "asked for"
                says = f"the {visit.kind} visit is {now}"
                yield at, About.CONTRADICTION, says, f"it was {was} before that", None
            if event.starts_at is not None:
                begins = event.starts_at
            if now == "held" and begins is not None and at < begins:
                says = f"the {visit.kind} visit is answered"
                yield at, About.CONTRADICTION, says, f"it begins at {begins.isoformat()}", None
            last = now


def _circuits(tables: JobTables) -> Iterator[Contradiction]:
    hookup = next((each for each in tables.milestones if each.milestone == "hookup"), None)
    if hookup is None or not hookup.circuits:
        return
    known = panel_circuits(tables.house.house) if tables.house else set()
    for circuit in hookup.circuits:
        if circuit not in known:
            says = f"circuit {circuit!r} may be live"
            yield hookup.recorded_at, About.CONTRADICTION, says, "no panel has it", None


def panel_circuits(house: str) -> set[str]:
    """The circuits of all panels, as a hookup names them."""
    return {circuit["id"] for circuit in json.loads(house).get("circuits", ())}


def _moments(tables: JobTables, record: RecordRead) -> Iterator[Contradiction]:
    for given in _past(tables, record):
        if not given.past():
            yield _outside(given, "such a thing lies behind us and after 1999")
    for given in _ahead(tables, record):
        if not given.ahead():
            yield _outside(given, "such a day lies after 1999 and within 20 years")
    for event in tables.events:
        starts, ends = event.starts_at, event.ends_at
        if starts is not None and not window_fits(starts, ends or starts, event.recorded_at):
            says = f"a visit is booked from {starts.isoformat()}"
            facts = "a window is at most 31 days, 400 days back and 800 ahead"
            yield event.recorded_at, About.MOMENT, says, facts, None
    for look in tables.strange:
        says = f"seen at {look.seen_at.isoformat()}"
        facts = f"it came at {look.recorded_at.isoformat()}"
        yield look.recorded_at, About.MOMENT, says, facts, look.item__area_id


def _outside(given: Given, facts: str) -> Contradiction:
    says = f"{given.name} {given.value.isoformat()}"
    return given.recorded, About.MOMENT, says, facts, None


def _of(tables: JobTables, row: Row, recorded: datetime, *names: str) -> Iterator[Given]:
    for name in names:
        value: date | None = getattr(row, name)
        if value is not None:
            yield Given(name.replace("_", " "), value, recorded, tables.zone)


def _past(tables: JobTables, record: RecordRead) -> Iterable[Given]:
    """Every day on which something is said to have happened."""
    if tables.permit is not None and record.permit_at is not None:
        days = ("applied_on", "issued_on", "closed_on")
        yield from _of(tables, tables.permit, record.permit_at, *days)
    for each in tables.milestones:
        yield from _of(tables, each, each.recorded_at, "reached_on")


def _ahead(tables: JobTables, record: RecordRead) -> Iterable[Given]:
    """Every day that may be yet to come."""
    if tables.permit is not None and record.permit_at is not None:
        yield from _of(tables, tables.permit, record.permit_at, "expires_on")
    for each in tables.milestones:
        yield from _of(tables, each, each.recorded_at, "temporary_until")
    for each in tables.deficiencies:
        yield from _of(tables, each, each.called_at, "due_on")
    if record.plan_at is not None:
        yield from _of(tables, tables.job, record.plan_at, "drywall_on")
