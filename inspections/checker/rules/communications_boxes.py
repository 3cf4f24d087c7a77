"""Communications and power in boxes of their own."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, teller
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, DeviceKind
from ..site import HouseByCode

NAME = "communications-boxes"
OUTLETS = frozenset({DeviceKind.DATA, DeviceKind.COAX, DeviceKind.PHONE})
MIXED = OUTLETS | {DeviceKind.RECEPTACLE, DeviceKind.SWITCH, DeviceKind.DIMMER}
"""Devices that tell which of the two a box is for."""
WORDS = {
    "barrier": Asked(
        "a barrier between power and communications in one box",
        "Give the communication cable a box of its own, or put in a barrier.",
    ),
}


@rule(
    NAME,
    topic="communications",
    title="Communications in boxes of their own",
    tell=teller(WORDS),
    scope=Scope.ROOM,
)
def communications_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables share no box with power, unless a barrier parts them.

    Drawn from the cables that enter each box and from the devices in it.
    """
    limit = site.rulebook.get(f"{NAME}.barrier")
    if limit is None or not limit.value:
        return

    def judge(box: Box) -> Judged:
        return judged([is_so("barrier", box.barrier, eyes=False)])

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
