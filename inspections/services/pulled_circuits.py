"""Writes of circuits as they were pulled: a revision of the house, done once."""

import json
from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from config.messages.message import Joined, Text
from inspections.fixes.as_pulled import NotARun, as_pulled, hops_of
from inspections.fixes.cables_changed import Hop
from inspections.models import FactCorrection, HouseRevision
from inspections.services import fact_refusal_messages as words
from inspections.services.fact_corrections import (
    CorrectedFact,
    FactMoved,
    NotCorrected,
    corrected_once,
)
from jobs.models import Job, Person


def circuit_pulled(
    actor: Person,
    *,
    job: Job,
    correction_id: UUID,
    circuit: str,
    shown: Sequence[Hop],
    hops: Sequence[Hop],
    made_at: datetime | None = None,
    withdraws: bool = True,
) -> FactCorrection:
    """Make the latest house feed the boxes of a circuit by these hops, once by its id.

    `shown` are the hops that its maker was shown. Cables between the same two places keep what is
    recorded of them. `withdraws` and what it raises are those of `fact_correct`.

    Raises FactMoved when other hops are recorded by now, NotCorrected for hops that are no run or
    are recorded already, and ValidationError for an id that another correction has.
    """

    def changing(revision: HouseRevision) -> tuple[Sequence[CorrectedFact], Text]:
        why = words.PULLED_BY(circuit=circuit, runs=hop_words(hops), person=str(actor))
        return _changes(revision, circuit, shown, hops), why

    return corrected_once(
        actor,
        job=job,
        correction_id=correction_id,
        changing=changing,
        made_at=made_at,
        withdraws=withdraws,
    )


def _changes(
    revision: HouseRevision, circuit: str, shown: Sequence[Hop], hops: Sequence[Hop]
) -> list[CorrectedFact]:
    house = json.loads(revision.house)
    now = hops_of(house, circuit)
    if sorted(now) != sorted(shown):
        raise FactMoved(
            words.MOVED(
                what=words.RUNS_OF(circuit=circuit), now=hop_words(now), was=hop_words(shown)
            )
        )
    try:
        found = as_pulled(house, circuit, hops)
    except NotARun as fault:
        raise NotCorrected(fault.text) from fault
    if not found:
        raise NotCorrected(words.NOTHING(what=words.RUNS_OF(circuit=circuit), now=hop_words(now)))
    changes = []
    for path, was, value in found:
        changes.append(CorrectedFact(path, was, value))
    return changes


def hop_words(hops: Sequence[Hop]) -> Joined:
    """Hops in a row as a lead reads them: P1, R1, R2; P1, R5."""
    rows: list[list[str]] = []
    for start, end in hops:
        if rows and rows[-1][-1] == start:
            rows[-1].append(end)
        else:
            rows.append([start, end])
    return Joined(tuple(" – ".join(row) for row in rows), "; ")
