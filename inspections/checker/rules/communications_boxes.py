"""Communications and power in boxes of their own."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, DeviceKind
from ..site import HouseByCode

NAME = "communications-boxes"
OUTLETS = frozenset({DeviceKind.DATA, DeviceKind.COAX, DeviceKind.PHONE})
MIXED = OUTLETS | {DeviceKind.RECEPTACLE, DeviceKind.SWITCH, DeviceKind.DIMMER}
"""Devices that tell which of the two a box is for."""
WORDS = point_words(
    NAME,
    {
        "barrier": PointWords(
            wrong="Box {part} holds power and communications with no barrier.",
            ok="Box {part} has a barrier between power and communications.",
            missing="whether box {part} has a barrier between power and communications",
            remedy="Install a barrier, or a second box.",
        ),
    },
)


@rule(
    NAME,
    topic="communications",
    title="Separate boxes for communications",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=PointsFacts,
    workmanship=True,
    fixes=box_facts(WORDS, barrier="barrier"),
)
def communications_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables share no box with power, unless a barrier separates them.

    Known from the cables that enter each box and from the devices in it.
    """
    limit = site.rulebook.get(f"{NAME}.barrier")
    if limit is None or not limit.value:
        return

    def judge(box: Box) -> Judged:
        parted = is_so("barrier", box.barrier)
        return judged(PointsFacts(box.id, (parted,)), not_by_eye=("barrier",))

    boxes = (box for box in site.house.boxes if _shared(site, box))
    yield from boxes_judged(this, site, boxes, judge, (limit,))


def _shared(site: HouseByCode, box: Box) -> bool:
    kinds = set()
    for device in box.devices:
        if device.kind in MIXED:
            kinds.add(device.kind in OUTLETS)
    for entry in site.wiring.at(box.id):
        kinds.add(not entry.cable.kind.carries_power)
    return len(kinds) > 1
