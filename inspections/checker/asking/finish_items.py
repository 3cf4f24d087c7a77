"""What is looked at when the house is finished: one item a room, with the devices it covers."""

from collections.abc import Callable, Iterator
from itertools import groupby

from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode
from inspections.checker.words import listed


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
    """One item for each room that has devices of these kinds: look at all of them.

    Its data names each box with its devices, so that another box or device opens it again.
    """
    for name, boxes in boxes_by_room(site, lambda box: bool(_of(box, kinds))):
        room = site.rooms[name]
        at = []
        for box in boxes:
            at.append([box.id, _of(box, kinds)])
        data = {"at": at}
        yield Finding(this, name, Verdict.LOOK, site.room_spot(room), data, limits)


def look_words(finding: Finding, what: str, asked: str) -> FindingWords:
    """An item of `room_looks` in words: look at such things, asked is so."""
    boxes = []
    for box, devices in finding.facts["at"]:
        boxes.append(f"{box} ({', '.join(devices)})")
    return FindingWords(
        f"Look at {what}: {asked}.",
        "not seen yet",
        asked,
        (f"{len(boxes)} to look at: {listed(boxes)}",),
        "Look at each and tick.",
    )


def _of(box: Box, kinds: frozenset[DeviceKind]) -> list[str]:
    words: list[str] = []
    for device in box.devices:
        if device.kind in kinds:
            words.append(device.kind.value.replace("_", " "))
    return words
