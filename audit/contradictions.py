"""What is on record and cannot be: answers against their deficiencies, inspections out of order,
moments out of bounds, circuits that no panel has.

Services refuse all of these. What was recorded before they did is a state, since nobody can take a
fact back; what was recorded since came by a way that should not be there.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from audit.found import About, Found, Sort
from audit.record import RecordRead
from audit.tables import JobTables, Row
from audit.times import GivenTime, window_fits
from inspections.models import HouseRevision

MAY_FOLLOW: dict[str | None, set[str]] = {
    None: {"booked", "cancelled"},
    "booked": {"moved", "held", "no_access", "nobody_came", "cancelled"},
    "moved": {"moved", "held", "no_access", "nobody_came", "cancelled"},
    "no_access": {"moved", "cancelled"},
}
"""What may happen to an inspection after what; None: it is asked for. After others nothing may."""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """What is on record, and why it cannot be."""

    at: datetime | None
    """When it was recorded; None: before services refused such things."""
    says: str
    facts: str
    area_id: UUID | None = None
    about: About = About.CONTRADICTION


def compare_facts(tables: JobTables, record: RecordRead, since: datetime | None) -> Iterator[Found]:
    """What is on record and cannot be. `since` is when services began to refuse it."""
    names = {area.id: area.name for area in tables.areas}
    for each in _all(tables, record):
        old = each.at is None or (since is not None and each.at < since)
        sort = Sort.DIFFERENCE
        if old:
            sort = Sort.STATE
        area = ""
        if each.area_id:
            area = names.get(each.area_id, "")
        yield Found(sort, each.about, each.says, each.facts, area)


def _all(tables: JobTables, record: RecordRead) -> Iterator[Contradiction]:
    yield from _area_answers(tables)
    yield from _job_answers(tables)
    yield from _inspections(tables)
    yield from _circuits(tables)
    yield from _moments(tables, record)


def _open_at(tables: JobTables, at: datetime) -> list[Row]:
    """Deficiencies that were called by then, and accepted neither before nor then."""
    still_open: list[Row] = []
    for each in tables.deficiencies:
        if each.called_at > at:
            continue
        if each.accepted_at is None or each.accepted_at > at:
            still_open.append(each)
    return still_open


def _area_answers(tables: JobTables) -> Iterator[Contradiction]:
    called = set()
    for deficiency in tables.deficiencies:
        called.add((deficiency.called_at_inspection_id, deficiency.area_id))
    for said in tables.acceptances:
        here, at, area = (said.inspection_id, said.area_id), said.recorded_at, said.area_id
        if said.answer == "accepted" and here in called:
            facts = "a deficiency was written up there at that inspection"
            yield Contradiction(at, "accepted", facts, area)
        none_called = here not in called and not _is_open_in(tables, area, at)
        if said.answer == "with_deficiencies" and none_called:
            yield Contradiction(at, "accepted with deficiencies", "none was written up there", area)
        if said.inspection_id is not None and not _was_for(tables, *here):
            says = f"{said.answer} at an inspection"
            yield Contradiction(at, says, "the inspection was not for that area", area)


def _was_for(tables: JobTables, inspection_id: UUID, area_id: UUID) -> bool:
    """Whether the inspection was for the area."""
    for each in tables.inspection_areas:
        if (each.inspection_id, each.area_id) == (inspection_id, area_id):
            return True
    return False


def _is_open_in(tables: JobTables, area_id: UUID, at: datetime) -> bool:
    """Whether a deficiency of the area was open at that moment."""
    for each in _open_at(tables, at):
        if each.area_id == area_id:
            return True
    return False


def _job_answers(tables: JobTables) -> Iterator[Contradiction]:
    called = set()
    for deficiency in tables.deficiencies:
        called.add(deficiency.called_at_inspection_id)
    final = set()
    for inspection in tables.inspections:
        if inspection.kind == "final":
            final.add(inspection.id)
    for said in tables.job_answers:
        yield from _job_answer(tables, said, said.inspection_id in called, final)


def _job_answer(
    tables: JobTables, said: Row, called: bool, final: set[UUID]
) -> Iterator[Contradiction]:
    """What speaks against one answer; `called`: something was written up at its inspection."""
    at, still_open = said.recorded_at, bool(_open_at(tables, said.recorded_at))
    if said.answer == "accepted" and called:
        facts = "a deficiency was written up at that inspection"
        yield Contradiction(at, "the job is accepted", facts)
    elif said.answer == "accepted" and still_open and said.inspection_id in final:
        yield Contradiction(at, "the final is accepted", "deficiencies were open")
    if said.answer == "with_deficiencies" and not (called or still_open):
        yield Contradiction(at, "the job is accepted with deficiencies", "none was written up")


def _inspections(tables: JobTables) -> Iterator[Contradiction]:
    for inspection in tables.inspections:
        events = []
        for event in tables.events:
            if event.inspection_id == inspection.id:
                events.append(event)
        yield from _course(inspection, events)


def _course(inspection: Row, events: Sequence[Row]) -> Iterator[Contradiction]:
    """What happened to an inspection and could not, or could not be known yet."""
    last, window = None, None
    for event in events:
        at, now = event.recorded_at, event.happening
        says = f"the {inspection.kind} inspection is {now}"
        if now not in MAY_FOLLOW.get(last, set()):
            yield Contradiction(at, says, f"it was {last or 'asked for'} before that")
        if event.starts_at is not None:
            window = event
        first = _known_from(now, window)
        if first is not None and at < first:
            facts = f"that cannot be known before {first.isoformat()}"
            yield Contradiction(at, says, facts)
        last = now


def _known_from(happening: str, window: Row | None) -> datetime | None:
    """Before when it cannot be known of an inspection that was given a window."""
    if window is None:
        return None
    if happening in ("held", "no_access"):
        starts: datetime | None = window.starts_at
        return starts
    if happening == "nobody_came":
        ends: datetime | None = window.ends_at
        return ends
    return None


def _circuits(tables: JobTables) -> Iterator[Contradiction]:
    """Circuits that may be live and that no panel of the house has, as it is or as it was then."""
    hookup = None
    for each in tables.milestones:
        if each.milestone == "hookup":
            hookup = each
            break
    if hookup is None:
        return
    typed = hookup.live is None
    missing = set(hookup.circuits) - panel_circuits(tables.house.house if tables.house else "{}")
    if missing and not typed:
        missing -= panel_circuits(_house_then(tables, hookup.recorded_at))
    for circuit in sorted(missing):
        says = f"circuit {circuit!r} may be live"
        facts = "no panel has it"
        if typed:
            facts = "that was typed, and no panel has it"
        yield Contradiction(None if typed else hookup.recorded_at, says, facts)


def panel_circuits(house: str) -> set[str]:
    """The circuits of all panels of a house, by their ids."""
    circuit_ids: set[str] = set()
    for circuit in json.loads(house).get("circuits", ()):
        circuit_ids.add(circuit["id"])
    return circuit_ids


def _house_then(tables: JobTables, at: datetime) -> str:
    """The house as it was recorded at a moment."""
    before = []
    for each in tables.revisions:
        if each.recorded_at <= at:
            before.append(each)
    if not before:
        return "{}"
    return HouseRevision.objects.values_list("house", flat=True).get(id=before[-1].id)


def _moments(tables: JobTables, record: RecordRead) -> Iterator[Contradiction]:
    for given in _past(tables, record):
        if not given.past():
            yield _outside(given, "such a thing lies behind us and after 1999")
    for given in _ahead(tables, record):
        if not given.ahead():
            yield _outside(given, "such a day lies after 1999 and within 20 years")
    yield from _windows(tables)
    for look in tables.strange:
        says = f"seen at {look.seen_at.isoformat()}"
        facts = f"it came at {look.recorded_at.isoformat()}"
        area = look.item__area_id
        yield Contradiction(look.recorded_at, says, facts, area, About.MOMENT)


def _windows(tables: JobTables) -> Iterator[Contradiction]:
    """Windows of inspections that nobody could have meant."""
    for event in tables.events:
        starts, ends, at = event.starts_at, event.ends_at, event.recorded_at
        if starts is not None and not (ends and window_fits(starts, ends, at)):
            says = (
                f"an inspection is booked from {starts.isoformat()} to {ends and ends.isoformat()}"
            )
            facts = "a window is at most 31 days, 400 days back and 800 ahead"
            yield Contradiction(at, says, facts, about=About.MOMENT)


def _outside(given: GivenTime, facts: str) -> Contradiction:
    says = f"{given.name} {given.value.isoformat()}"
    return Contradiction(given.recorded, says, facts, about=About.MOMENT)


def _of(tables: JobTables, row: Row, recorded: datetime, *names: str) -> Iterator[GivenTime]:
    for name in names:
        value: date | None = getattr(row, name)
        if value is not None:
            yield GivenTime(name.replace("_", " "), value, recorded, tables.zone)


def _past(tables: JobTables, record: RecordRead) -> Iterable[GivenTime]:
    """Every day on which something is said to have happened."""
    if tables.permit is not None and record.permit_at is not None:
        days = ("applied_on", "issued_on", "closed_on")
        yield from _of(tables, tables.permit, record.permit_at, *days)
    for each in tables.milestones:
        yield from _of(tables, each, each.recorded_at, "reached_on")


def _ahead(tables: JobTables, record: RecordRead) -> Iterable[GivenTime]:
    """Every day that may be yet to come."""
    if tables.permit is not None and record.permit_at is not None:
        yield from _of(tables, tables.permit, record.permit_at, "expires_on")
    for each in tables.milestones:
        yield from _of(tables, each, each.recorded_at, "temporary_until")
    for each in tables.deficiencies:
        yield from _of(tables, each, each.called_at, "due_on")
    if record.plan_at is not None:
        yield from _of(tables, tables.job, record.plan_at, "drywall_on")
