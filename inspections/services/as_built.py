"""Writes of what was built otherwise than drawn: a box moved, added or removed, a circuit renamed.

Each is one revision of the house, done once, and undone like any correction.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from config.messages.message import Text
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.nouns import noun
from inspections.checker.house.paths import NoSuchPath, Path, value_at
from inspections.checker.load import load_house
from inspections.fixes.as_built import box_added, box_moved, box_removed, circuit_renamed
from inspections.fixes.cables_changed import Change, House
from inspections.fixes.fact_words import fact_name, value_words
from inspections.fixes.fixes import HouseFacts
from inspections.models import FactCorrection, HouseRevision
from inspections.services import fact_refusal_messages as words
from inspections.services.fact_corrections import (
    CorrectedFact,
    FactMoved,
    NotCorrected,
    corrected_once,
)
from jobs.models import Job, Person

Place = dict[str, Any]
"""Where a box is, as a house file says it."""


@dataclass(frozen=True, slots=True)
class BoxMoved:
    """A box that stands elsewhere than its maker was shown."""

    box: str
    shown: Place
    place: Place


@dataclass(frozen=True, slots=True)
class BoxRemoved:
    """A box that was not installed, or taken out."""

    box: str
    shown: Place


@dataclass(frozen=True, slots=True)
class BoxAdded:
    """A box with one device that no plan has."""

    room: str
    device: DeviceKind
    place: Place
    fed_from: str = ""
    """The box that its cable comes from; empty where that is not known yet."""


@dataclass(frozen=True, slots=True)
class CircuitNamed:
    """A circuit that is called otherwise at its panel."""

    circuit: str
    shown: str
    name: str


Built = BoxMoved | BoxRemoved | BoxAdded | CircuitNamed


def built_record(
    actor: Person,
    *,
    job: Job,
    correction_id: UUID,
    built: Built,
    made_at: datetime | None = None,
    withdraws: bool = True,
) -> FactCorrection:
    """Make the latest house say what was built, as one revision, once by its id.

    `withdraws` and what it raises are those of `fact_correct`. Raises FactMoved when what its maker
    was shown is not what is recorded by now, NotCorrected for a part that is gone and for what is
    recorded already, and ValidationError for a house that cannot be.
    """

    def changing(revision: HouseRevision) -> tuple[Sequence[CorrectedFact], Text]:
        try:
            changes, why = _changes(revision, built, str(actor))
        except NoSuchPath as gone:
            raise NotCorrected(words.NO_PART(part=str(gone))) from gone
        return [CorrectedFact(*each) for each in changes], why

    return corrected_once(
        actor,
        job=job,
        correction_id=correction_id,
        changing=changing,
        made_at=made_at,
        withdraws=withdraws,
    )


def _changes(revision: HouseRevision, built: Built, person: str) -> tuple[Sequence[Change], Text]:
    """What changes in the house, and the reason of the revision."""
    house: House = json.loads(revision.house)
    match built:
        case BoxMoved(box, shown, place):
            path = ("boxes", box, "place")
            _refuse_moved(house, path, fact_name(path), shown)
            changes = box_moved(house, box, place)
            was, now = value_words(path, changes[0][1]), value_words(path, changes[0][2])
            return changes, words.BOX_MOVED_BY(box=box, was=was, now=now, person=person)
        case BoxRemoved(box, shown):
            path = ("boxes", box, "place")
            _refuse_moved(house, path, fact_name(path), shown)
            place = value_words(path, shown)
            return box_removed(house, box), words.BOX_REMOVED_BY(
                box=box, place=place, person=person
            )
        case BoxAdded():
            return _added(revision, built, person)
        case CircuitNamed(circuit, shown, name):
            path = ("circuits", circuit, "name")
            _refuse_moved(house, path, words.RUNS_OF(circuit=circuit), shown)
            if name == shown:
                raise NotCorrected(words.NOTHING(what=words.RUNS_OF(circuit=circuit), now=name))
            named = words.CIRCUIT_NAMED_BY(circuit=circuit, was=shown, now=name, person=person)
            return circuit_renamed(house, circuit, name), named


def _added(revision: HouseRevision, built: BoxAdded, person: str) -> tuple[Sequence[Change], Text]:
    facts = HouseFacts(load_house(revision.house.encode()))
    try:
        changes = box_added(
            facts,
            room=built.room,
            device=built.device,
            place=built.place,
            fed_from=built.fed_from,
        )
    except NoSuchPath as unfed:
        raise NotCorrected(words.NOT_FED_FROM(node=built.fed_from)) from unfed
    why = words.BOX_ADDED_BY(
        box=str(changes[0][0][1]),
        device=noun(built.device),
        place=value_words(("boxes", "", "place"), built.place),
        person=person,
    )
    return changes, why


def _refuse_moved(house: House, path: Path, what: Text, shown: Any) -> None:
    """Raise FactMoved where something else is recorded by now than its maker was shown."""
    stands = value_at(house, path)
    if stands != shown:
        now, was = value_words(path, stands), value_words(path, shown)
        raise FactMoved(words.MOVED(what=what, now=now, was=was))
