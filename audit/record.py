"""The record of a job, read once more: an unbroken chain, and what its entries say was recorded."""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from audit.found import About, Found, difference
from audit.tables import JobTables, Row
from inspections.checker.facts import digest
from inspections.models import RecordEntry

DREW_ITEMS = ("house recorded", "insulation chosen")
AT_ONCE = 1000
COLUMNS = ("id", "job_id", "number", "action", "detail", "before", "origin", "by_id", "at", "chain")


@dataclass
class RecordRead:
    """What the entries of a record say that the auditor needs."""

    broken: str = ""
    """What is wrong with the chain, the first of it."""
    unsettled_at: datetime | None = None
    """When the first change was recorded that no settling has seen."""
    permit_at: datetime | None = None
    """When something of the permit was last recorded."""
    plan_at: datetime | None = None
    """When something of what the job is was last changed."""
    drawn: str | None = None
    """The digest of the items as they were last drawn; None: it was not kept then."""
    insulation: str | None = None
    """The insulation that they were drawn with; None: it was not kept then."""
    revision: int = 0
    """The last revision of the house that the record tells of."""
    house: str = ""
    """The digest of that house."""
    na: int = 0
    """How many answers N/A it tells of."""

    def breaks(self, says: str) -> None:
        """Say what is wrong with the chain; the first of it is kept."""
        self.broken = self.broken or says


def read_record(tables: JobTables) -> RecordRead:
    """Walk a job's record as far as it was when its tables were read."""
    read, chain, number = RecordRead(), "", 0
    standing = tables.standing
    seen = standing.record_number - (standing.facts - standing.settled)
    entries = RecordEntry.objects.filter(job=tables.job.id, number__lte=tables.entries[1] or 0)
    rows = entries.order_by("number").values_list(*COLUMNS, named=True)
    for entry in rows.iterator(chunk_size=AT_ONCE):
        number += 1
        if entry.number != number:
            read.breaks(f"entry {number} is missing")
            number = entry.number
        if entry.chain != _link(chain, entry):
            read.breaks(f"entry {number} ({entry.action}) was altered")
        chain = entry.chain
        if number > seen and read.unsettled_at is None:
            read.unsettled_at = entry.at
        _note(read, entry)
    if (standing.record_number, standing.record_chain) != (number, chain):
        read.breaks(f"it ends at entry {number}, and {standing.record_number} were written")
    return read


def _link(chain: str, entry: Row) -> str:
    """What the chain is after an entry, by what stood before it and what the entry says."""
    said = [str(entry.id), str(entry.job_id), entry.number, entry.action, entry.detail]
    said += [entry.before, entry.origin, str(entry.by_id), entry.at.timestamp()]
    text = chain + json.dumps(said, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _note(read: RecordRead, entry: Row) -> None:
    """Take from an entry what the auditor needs of it."""
    if entry.action.startswith("permit"):
        read.permit_at = entry.at
    if entry.action == "job changed":
        read.plan_at = entry.at
    if entry.action in DREW_ITEMS:
        read.drawn = entry.detail.get("items")
        read.insulation = entry.detail.get("insulation")
    if entry.action == "house recorded":
        read.revision = entry.detail["revision"]
        read.house = entry.detail["house"]
    read.na += _na_told(entry)


def _na_told(entry: Row) -> int:
    """How many answers N/A an entry tells of: one at a time, or those among the ticks of a walk."""
    if entry.action == "item observed":
        return int(entry.detail.get("outcome") == "na")
    if entry.action != "walk recorded":
        return 0
    told = 0
    for tick in entry.detail.get("items", ()):
        told += str(tick).endswith(": na")
    return told


def compare_record(tables: JobTables, record: RecordRead) -> Iterator[Found]:
    """What is wrong with the chain, and a house or a count of N/A that it does not tell of.

    N/A is the one answer that settles a line which nobody has seen, so none goes unsaid.
    """
    if record.broken:
        yield difference(About.RECORD, record.broken, "a record is an unbroken chain")
    if tables.na != record.na:
        facts = f"the record tells of {record.na}"
        yield difference(About.RECORD, f"{tables.na} answers N/A", facts)
    number = 0
    if tables.revisions:
        number = tables.revisions[-1].number
    if number != record.revision:
        facts = f"the record tells of revision {record.revision} last"
        yield difference(About.RECORD, f"revision {number} of the house", facts)
    elif tables.house is not None and digest(tables.house.house) != record.house:
        says = f"revision {number} of the house"
        yield difference(About.RECORD, says, "it is not the house that was recorded")
