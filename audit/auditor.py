"""The audit of some jobs: read at one moment, drawn again, compared."""

import logging
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from uuid import UUID

from django.db import connection
from django.utils import timezone

from audit.compare import compare_areas, compare_settling, compare_stage, drawn_holds, due_of
from audit.contradictions import compare_facts
from audit.crossings import crossings_of_jobs
from audit.found import About, Found, as_states, difference
from audit.items import compare_items, put_right
from audit.notices import JobNotices, compare_sent, compare_told, read_told
from audit.record import compare_record, read_record
from audit.tables import JobTables, one_moment, read
from config.faults import said_of
from jobs.models import Job

log = logging.getLogger(__name__)

TOGETHER = 25
"""Jobs whose tables are read in one transaction: each kind of row is asked for once."""


def audit_jobs(job_ids: Sequence[UUID]) -> Iterator[Found]:
    """Every difference between what the facts of these jobs give and what is kept of it."""
    for first in range(0, len(job_ids), TOGETHER):
        together = job_ids[first : first + TOGETHER]
        try:
            lines = list(_audit(together))
        except Exception:  # noqa: BLE001 - which of them it is, shows one by one
            lines = []
            for job_id in together:
                lines.extend(_alone(job_id))
        yield from lines


def _alone(job_id: UUID) -> list[Found]:
    """One job; that it cannot be read is a line like any other."""
    try:
        return list(_audit([job_id]))
    except Exception as fault:
        log.exception("job %s cannot be audited", job_id)
        says = said_of(fault)
        name = Job.objects.filter(id=job_id).values_list("name", flat=True).first() or ""
        line = difference(About.READING, says, "every row that is kept can be read")
        return [replace(line, job=name, job_id=job_id)]


def _audit(job_ids: Sequence[UUID]) -> Iterator[Found]:
    with one_moment():
        now = timezone.now()
        found = read(job_ids)
        told = read_told(found, now)
        crossed = list(crossings_of_jobs(job_ids))
    since = refused_since()
    for job_id, tables in found.items():
        here = {"job": tables.job.name, "job_id": job_id, "shop_id": tables.job.shop_id}
        mine = []
        for line in crossed:
            if line.job_id == job_id:
                mine.append(line)
        for line in (*mine, *audit_one(tables, told[job_id], now, since)):
            yield replace(line, **here)


def audit_one(
    tables: JobTables, told: JobNotices, now: datetime, since: datetime | None
) -> Iterable[Found]:
    """One job, from what was read of it."""
    record = read_record(tables)
    due = due_of(tables, record, now)
    moment = due.moment(now)
    yield from compare_record(tables, record)
    yield from compare_facts(tables, record, since)
    items = compare_items(tables, record)
    yield from items.found
    if items.otherwise is not None:
        put_right(tables, items.otherwise)
    yield from compare_settling(tables, due, now)
    drawn = drawn_holds(tables, moment)
    yield from compare_areas(tables, drawn, due)
    yield from compare_sent(tables, told, now)
    behind = tables.standing.set_aside_at is not None or due.waits
    by_settling = [*compare_stage(tables, drawn, moment), *compare_told(tables, told, moment)]
    yield from as_states(by_settling) if behind else by_settling


def refused_since() -> datetime | None:
    """When services began to refuse contradictions and moments out of bounds; None: always."""
    with connection.cursor() as cursor:
        asked = "SELECT MIN(applied) FROM django_migrations WHERE app = %s AND name LIKE %s"
        cursor.execute(asked, ["inspections", f"{REFUSING}%"])
        applied: datetime | str | None
        (applied,) = cursor.fetchone()
    if isinstance(applied, str):  # SQLite has text for what is no column of a model
        applied = datetime.fromisoformat(applied)
    if applied is not None and timezone.is_naive(applied):
        applied = timezone.make_aware(applied)
    return applied


REFUSING = "0026"
"""The migration of the version from which on services refuse them."""
