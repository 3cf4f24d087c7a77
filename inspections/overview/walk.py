"""A house as it is walked with a phone: place by place, card by card."""

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from uuid import UUID

from django.utils.crypto import salted_hmac

from config.messages.message import Text
from inspections.checker.asking.visual import PartKind, natural, part_text
from inspections.checker.finding import Verdict
from inspections.checker.house.rooms import RoomKind
from inspections.conclusions.as_drawn import not_by_room_check, unlike_drawn
from inspections.models import HouseRevision, Item
from inspections.overview.as_drawn import photographed
from inspections.overview.open_lines import BY_FIGURES, open_lines
from inspections.selectors import ChecklistLine, checklist, latest_revision
from inspections.standing.holds import Standing
from inspections.standing.samples import sample
from inspections.standing.stages import Stage
from inspections.standing.walk_cards import (
    PlaceKind,
    WalkCard,
    WalkedThing,
    WalkPlace,
    about_finding,
    settled_by_eye,
    walk_places,
)
from jobs.models import Job

SALT = "studbay.walk.sample"
TAPED_FIRST = "free-conductors"
"""The rule whose line takes the figure of a sampled box, where the room has it."""


class GivenBy(StrEnum):
    """How an OK is given to a line that waits for one."""

    CARD = "card"
    """With all others of its card."""
    LINE = "line"
    """By itself, at its own line."""
    NONE = ""
    """Nothing waits here: it is answered, or no OK closes it."""


@dataclass(frozen=True, slots=True)
class WalkLine:
    """A line of the checklist as a phone shows it."""

    line: ChecklistLine
    card: WalkCard
    check: GivenBy
    number: int | None
    """Its number on plan, list and paper where it is open."""
    photograph_first: bool
    """Whether the shop wants a photograph of it that nobody has taken."""

    @property
    def first(self) -> bool:
        """Whether it stands first in its room: it is to be fixed, lacks info or is contested."""
        return self.line.contested or self.number is not None


@dataclass(frozen=True, slots=True)
class Sampled:
    """A box that a close-up or a tape shows before the boxes of its room are OK."""

    box: str
    items: Sequence[Item]
    """What is checked of the box by itself; a close-up is kept with the first."""
    measured: Item | None
    """Where a figure of it is kept; None where nothing is measured, or another box has it."""


@dataclass(frozen=True, slots=True)
class WalkedPlace:
    """A place with its lines, card by card."""

    place: PlaceKind
    room: str
    stage: Item.Stage
    lines: Sequence[WalkLine]
    sample: Sequence[Sampled]


def walk_of(job: Job) -> list[WalkedPlace]:
    """The places of a job in the order that they are walked, the finish first once it is due."""
    every = checklist(job)
    numbers = {}
    for each in open_lines(every):
        numbers[each.line.item.id] = each.number
    revision = latest_revision(job)
    outdoors = outdoor_rooms(revision)

    def about(line: ChecklistLine) -> WalkedThing:
        return about_finding(line.item.finding, outdoors)

    stages = [Item.Stage.ROUGH_IN]
    if job.standing.stage in (Stage.FINISH, Stage.FINAL):
        stages.insert(0, Item.Stage.FINISH)
    walked: list[WalkedPlace] = []
    for stage in stages:
        of_stage = [line for line in every if line.item.stage == stage]
        places = walk_places(of_stage, about)
        sampled = _sampled(job, revision, places)
        for place in places:
            boxes = sampled.get(place.room, ())
            lines = _walk_lines(place, numbers, job.shop.photo_rules)
            walked.append(WalkedPlace(place.kind, place.room, stage, lines, boxes))
    return walked


def outdoor_rooms(revision: HouseRevision | None) -> frozenset[str]:
    """The ids of the rooms of a house that are out in the open."""
    found = set()
    if revision is not None:
        for room in json.loads(revision.house)["rooms"]:
            if room["kind"] == RoomKind.OUTDOORS:
                found.add(room["id"])
    return frozenset(found)


def _walk_lines(
    place: WalkPlace[ChecklistLine], numbers: Mapping[UUID, int], photo_rules: Collection[str]
) -> list[WalkLine]:
    lines: list[WalkLine] = []
    for card, of_card in place.cards.items():
        for line in of_card:
            item = line.item
            missing = item.rule in photo_rules and not photographed(item)
            lines.append(WalkLine(line, card, check_of(line), numbers.get(item.id), missing))
    return lines


def check_of(line: ChecklistLine) -> GivenBy:
    """How a line is answered with OK, whether or not a photograph is wanted first."""
    item = line.item
    if line.standing is not Standing.OPEN or item.verdict in BY_FIGURES:
        return GivenBy.NONE
    if line.latest is not None and not line.changed_since:
        return GivenBy.NONE
    drawn = unlike_drawn(item) is None
    if not drawn and item.verdict != Verdict.VERIFY:
        return GivenBy.NONE
    together = settled_by_eye(item.rule, item.finding.get("topic", ""))
    if together and not_by_room_check(item) is None:
        return GivenBy.CARD
    return GivenBy.LINE


def checked_parts(item: Item) -> list[Text]:
    """The parts that wait for eyes at a line of a room, as a person points at them: box R22."""
    facts = item.finding.get("facts")
    if not isinstance(facts, Mapping):
        return []
    named = {}
    for part in facts.get("parts", ()):
        if isinstance(part, Mapping) and part.get("kind") in set(PartKind):
            named[part["id"]] = part_text(PartKind(part["kind"]), part["id"])
    parts: list[Text] = []
    for each in sorted(named, key=natural):
        parts.append(named[each])
    return parts


def _sampled(
    job: Job, revision: HouseRevision | None, places: Sequence[WalkPlace[ChecklistLine]]
) -> dict[str, list[Sampled]]:
    """The sampled boxes of each room, with where a close-up and a figure of them are kept."""
    if revision is None:
        return {}
    boxes = set()
    for box in json.loads(revision.house).get("boxes", []):
        boxes.add(box["id"])
    by_room: dict[str, dict[str, list[Item]]] = {}
    tapes: dict[str, Item] = {}
    for place in places:
        for line in place.cards.get(WalkCard.BOXES, ()):
            item = line.item
            if item.subject in boxes:
                by_room.setdefault(place.room, {}).setdefault(item.subject, []).append(item)
            elif _taped(item) and (item.rule == TAPED_FIRST or place.room not in tapes):
                tapes[place.room] = item
    key = salted_hmac(SALT, "").digest()
    found: dict[str, list[Sampled]] = {}
    for room, ids in sample(key, str(job.id), revision.number, by_room).items():
        tape = tapes.get(room)  # one figure is of one box
        for box in ids:
            found.setdefault(room, []).append(Sampled(box, by_room[room][box], tape))
            tape = None
    return found


def _taped(item: Item) -> bool:
    return item.verdict == Verdict.VERIFY and item.measure is not None
