"""Comparing the copies that are kept of a job's conclusions with what its facts give."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from audit.draws import AuditHold, holds_from_rows, permit_turns_from_rows, stage_from_rows
from audit.found import About, Found, as_states, difference, state
from audit.record import RecordRead
from audit.tables import JobTables, Row
from config.languages import say

GRACE = timedelta(minutes=15)
"""A job that is due waits for the next sweep; one that waits for longer was forgotten."""
TICK = timedelta(microseconds=1)
PART = re.compile(r"[\s.,-]+")


@dataclass(frozen=True, slots=True)
class Unsettled:
    """Whether a job waits to be settled: since when, and why it is not a fault yet."""

    since: datetime | None = None
    waits: bool = False
    """It is due, and may be: what the clock changed is not drawn yet."""

    def moment(self, now: datetime) -> datetime:
        """The moment that its copies are to be true of."""
        if self.waits and self.since is not None:
            return self.since - TICK
        return now


def due_of(tables: JobTables, record: RecordRead, now: datetime) -> Unsettled:
    """Whether a job waits to be settled, and whether it has waited too long."""
    standing = tables.standing
    since = []
    if standing.next_at is not None and standing.next_at <= now:
        since.append(standing.next_at)
    if standing.settled < standing.facts:
        since.append(record.unsettled_at or now)
    if not since:
        return Unsettled()
    first = min(since)
    return Unsettled(first, waits=standing.set_aside_at is None and now - first <= GRACE)


def compare_settling(tables: JobTables, due: Unsettled, now: datetime) -> Iterator[Found]:
    """What says that the conclusions of a job are old."""
    standing = tables.standing
    if standing.set_aside_at is not None:
        yield from _set_aside(standing, now)
    elif due.since is not None and not due.waits:
        says = f"settled as of {standing.settled} of {standing.facts} changes"
        drawn = "never"
        if standing.drawn_at:
            drawn = f"{standing.drawn_at:%Y-%m-%d %H:%M} UTC"
        facts = f"due since {due.since:%Y-%m-%d %H:%M} UTC, and last drawn {drawn}"
        yield difference(About.SETTLING, says, facts)
    turns = permit_turns_from_rows(tables, now)
    if due.since is not None or turns is None:
        return
    if standing.next_at is None or standing.next_at > turns:
        says = f"the next moment is {standing.next_at or 'none'}"
        facts = f"the permit turns at {turns.isoformat()}"
        yield difference(About.SETTLING, says, facts)


def _set_aside(standing: Row, now: datetime) -> Iterator[Found]:
    """That a job could not be settled, and whether it was tried again in time."""
    says = f"set aside since {standing.set_aside_at:%Y-%m-%d %H:%M} UTC"
    yield state(About.SETTLING, says, f"not settled because {standing.set_aside_because}")
    if standing.try_at is None or standing.try_at < now - GRACE:
        says = f"to be tried again at {standing.try_at or 'no time'}"
        yield difference(About.SETTLING, says, "nobody has tried")


Holds = dict[UUID, list[AuditHold]]
"""By area."""


def drawn_holds(tables: JobTables, now: datetime) -> Holds:
    """What holds each area of a job at a moment."""
    by_id = {}
    for area in tables.areas:
        by_id[area.id] = holds_from_rows(tables, area, now)
    return by_id


def compare_areas(tables: JobTables, drawn: Holds, due: Unsettled) -> Iterator[Found]:
    """Holds and cover releases of each area, against their copies.

    Copies of a job that waits may be behind what the clock or an authority's rules changed, which
    is only ever the permit; a cover release beside any other hold is false at every moment.
    """
    live = {}
    for each in tables.cover_releases:
        if each.withdrawn_at is None:
            live[each.area_id] = each
    for area in tables.areas:
        holds = drawn[area.id]
        cover_release = live.get(area.id)
        if cover_release is not None:
            behind = due.waits and {hold.reason for hold in holds} == {"permit"}
            found = _cover_release(tables, area, cover_release, holds)
            yield from as_states(found) if behind else found
        found = _copy(tables.area_standings.get(area.id), area, holds, cover_release)
        yield from as_states(found) if due.waits else found


def _cover_release(
    tables: JobTables, area: Row, cover_release: Row, holds: list[AuditHold]
) -> Iterator[Found]:
    says = f"released, {cover_release.reference}"
    if holds:
        yield difference(About.COVER_RELEASE, says, f"held: {_told(holds)}", area.name)
    said = None
    for a in tables.acceptances:
        if a.id == cover_release.acceptance_id:
            said = a
            break
    if said is None or said.area_id != area.id:
        yield difference(
            About.COVER_RELEASE, says, "the answer it rests on is not of it", area.name
        )
    elif said.answer == "not_accepted" or said.recorded_at > cover_release.issued_at:
        yield difference(
            About.COVER_RELEASE, says, "it rests on no acceptance before it", area.name
        )


def _copy(
    copy: Row | None, area: Row, holds: list[AuditHold], cover_release: Row | None
) -> Iterator[Found]:
    released = cover_release is not None and not holds
    if copy is None:
        yield difference(About.AREA, "no standing", _stands(holds, released), area.name)
        return
    kept = [hold.get("reason", "") for hold in copy.holds]
    drawn = [hold.reason for hold in holds]
    if (sorted(kept), copy.hold_count, copy.released) != (sorted(drawn), len(drawn), released):
        says = f"{copy.hold_count} holds: {', '.join(kept) or 'none'}"
        if copy.released:
            says += "; released"
        yield difference(About.AREA, says, _stands(holds, released), area.name)
        return
    for hold in holds:
        if not _is_told(hold, copy):
            says = "; ".join(say(each.get("says", ""), "en") for each in copy.holds)
            yield difference(About.AREA, says, _told(holds), area.name)


def _is_told(hold: AuditHold, copy: Row) -> bool:
    """Whether what is kept of the area says the hold."""
    for kept_hold in copy.holds:
        if _says(kept_hold, hold):
            return True
    return False


def _says(kept: dict[str, Any], hold: AuditHold) -> bool:
    """Whether a hold that is kept is this one: of its reason, and its figure in the sentence."""
    if kept.get("reason") != hold.reason:
        return False
    return not hold.figure or set(hold.figure.split()) <= set(_figures(kept.get("says", "")))


def _figures(says: Any) -> Iterator[str]:
    """What a sentence that is kept names: of a message what fills it, and the ids of its parts."""
    if isinstance(says, dict):
        for each in says.values():
            yield from _figures(each)
    else:
        yield from PART.split(str(says))


def _told(holds: list[AuditHold]) -> str:
    return ", ".join(map(str, holds)) or "none"


def _stands(holds: list[AuditHold], released: bool) -> str:
    if released:
        return "released"
    return f"{len(holds)} holds: {_told(holds)}"


def compare_stage(tables: JobTables, drawn: Holds, now: datetime) -> Iterator[Found]:
    """The stage of a job, against its copy."""
    live = set()
    for each in tables.cover_releases:
        if each.withdrawn_at is None:
            live.add(each.area_id)
    released = set()
    for area, holds in drawn.items():
        if area in live and not holds:
            released.add(area)
    stage = stage_from_rows(tables, drawn, released, now)
    if tables.standing.stage != stage:
        yield difference(About.STAGE, tables.standing.stage, stage)
