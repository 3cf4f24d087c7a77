"""The record of a job: entries in a chain, so that a missing or altered link shows."""

import hashlib
import json
from collections.abc import Iterator
from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.serializers.json import DjangoJSONEncoder

from inspections.models import JobStanding, RecordEntry
from jobs.models import Person
from jobs.origin import origin

Table = dict[str, Any]

WRITTEN_WITH_EXPONENT = 1e16


def json_values(values: Table) -> Table:
    """The values as JSON keeps them: ids, dates and times as text, numbers as they come back."""
    text = json.dumps(values, cls=DjangoJSONEncoder, sort_keys=True)
    kept: Table = json.loads(text, parse_float=_number)
    return kept


def _number(text: str) -> float | int:
    """A number as PostgreSQL gives it back, which writes neither -0.0 nor 1e+22 as Python does.

    An entry's digest rests on what is read again: another number would look like another entry.
    """
    value = float(text)
    if value == 0:
        return 0.0
    if abs(value) >= WRITTEN_WITH_EXPONENT:
        return int(value)
    return value


def chained(entry: RecordEntry, before: str) -> str:
    """The digest of an entry and of the chain before it."""
    told = [
        str(entry.id),
        str(entry.job_id),
        entry.number,
        entry.action,
        entry.detail,
        entry.before,
        entry.origin,
        str(entry.by_id),
        entry.at.timestamp(),
    ]
    text = before + json.dumps(told, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def record_append(
    standing: JobStanding, actor: Person, action: str, detail: Table, before: Table, at: datetime
) -> RecordEntry:
    """Write the next entry of a job, whose standing the caller holds locked."""
    entry = RecordEntry(
        job_id=standing.job_id,
        number=standing.record_number + 1,
        action=action,
        detail=json_values(detail),
        before=json_values(before),
        origin=origin(),
        by=actor,
        at=at,
    )
    entry.chain = chained(entry, standing.record_chain)
    entry.save(force_insert=True)
    standing.record_number, standing.record_chain = entry.number, entry.chain
    return entry


def record_faults(job_id: UUID) -> Iterator[str]:
    """What is wrong with a job's record; nothing when it is unbroken."""
    standing = JobStanding.objects.filter(job=job_id).first()
    chain, number = "", 0
    for entry in RecordEntry.objects.filter(job=job_id).order_by("number").iterator():
        number += 1
        if entry.number != number:
            yield f"entry {number} is missing"
            number = entry.number
        expected = chained(entry, chain)
        if entry.chain != expected:
            yield f"entry {entry.number} ({entry.action}) is not what was written"
        chain = entry.chain
    if standing and (standing.record_number, standing.record_chain) != (number, chain):
        yield f"the record ends at entry {number}, but {standing.record_number} were written"
