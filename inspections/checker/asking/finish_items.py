"""What is looked at when the house is finished: one item a room, with the devices it covers."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from config.messages.message import Joined, Listed, Value, message
from inspections.checker.asking.visual import COUNTED, HERE, PartKind, natural
from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.house.nouns import noun
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode

TO_CHECK = message("finish.to-check", "To check: {boxes}.")
HOLDS = message("finish.holds", "{box} ({devices})")


@dataclass(frozen=True, slots=True)
class FinishedBox:
    """A box and those of its devices that are to be checked, in their order."""

    box: str
    devices: tuple[DeviceKind, ...]


@dataclass(frozen=True, slots=True)
class FinishFacts:
    """The boxes of a room whose devices are to be checked."""

    boxes: frozenset[FinishedBox]


def boxes_by_room(
    site: HouseByCode, wanted: Callable[[Box], bool]
) -> Iterator[tuple[str, list[Box]]]:
    """The wanted boxes of each room that has some, the rooms in the order of the house."""
    rank = {}
    for place, room in enumerate(site.house.rooms):
        rank[room.id] = place
    found = sorted(filter(wanted, site.house.boxes), key=lambda box: rank[box.room])
    for room, boxes in groupby(found, lambda box: box.room):
        yield room, list(boxes)


def room_looks(
    this: Rule, site: HouseByCode, kinds: frozenset[DeviceKind], limits: tuple[Limit, ...]
) -> Iterator[Finding]:
    """One item for each room that has devices of these kinds: verify all of them.

    Its facts name each box with its devices, so that another box or device opens it again.
    """
    for name, boxes in boxes_by_room(site, lambda box: bool(_of(box, kinds))):
        found = set()
        for box in boxes:
            found.add(FinishedBox(box.id, _of(box, kinds)))
        spot = site.room_spot(site.rooms[name])
        yield Finding(this, name, Verdict.VERIFY, spot, FinishFacts(frozenset(found)), limits)


def look_words(finding: Finding, checks: Sequence[Value], remedy: Value) -> FindingWords:
    """An item of `room_looks` in words; each check is a sentence about all of them."""
    facts: FinishFacts = finding.facts
    alike: dict[tuple[DeviceKind, ...], list[str]] = {}
    for each in sorted(facts.boxes, key=lambda each: natural(each.box)):
        alike.setdefault(tuple(dict.fromkeys(each.devices)), []).append(each.box)
    boxes = []
    for kinds, ids in alike.items():
        devices = Listed(tuple(noun(kind) for kind in kinds))
        boxes.append(HOLDS(box=Listed(tuple(ids)), devices=devices))
    count = COUNTED[PartKind.BOX](n=len(facts.boxes))
    return FindingWords(
        HERE(checks=Joined(tuple(checks)), parts=count),
        working=(TO_CHECK(boxes=Joined(tuple(boxes), "; ")),),
        remedy=remedy,
    )


def _of(box: Box, kinds: frozenset[DeviceKind]) -> tuple[DeviceKind, ...]:
    return tuple(device.kind for device in box.devices if device.kind in kinds)
