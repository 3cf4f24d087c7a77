"""Receptacles that a child cannot put a pin into."""

from collections.abc import Iterator

from inspections.checker.asking.finish_items import boxes_by_room
from inspections.checker.asking.fixtures import height_of
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind
from ..site import HouseByCode
from ..words import length, listed, plural

NAME = "tamper-resistance"
HIGHEST_A = 20  # larger receptacles are of another configuration


def tell(finding: Finding) -> FindingWords:
    """Which receptacles of the room are marked, which are not, and which nobody looked at."""
    data = finding.facts
    limit = f"marked, up to {length(data['below'], finding.imperial)} high"
    says = {
        Verdict.MEETS: "Every receptacle here is tamper-resistant.",
        Verdict.SHORT: f"Not tamper-resistant: {listed(data['plain'])}.",
        Verdict.LOOK: f"Look at {listed(data['unseen'])}: each is marked tamper-resistant.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Change them for receptacles so marked.",
        Verdict.LOOK: "Look for the mark on each and tick.",
    }.get(finding.verdict, "")
    working = []
    for key, what in (("marked", "marked"), ("plain", "not"), ("unseen", "not seen yet")):
        working.append(
            f"{plural(len(data[key]), 'receptacle')} {what}: {listed(data[key]) or 'none'}"
        )
    return FindingWords(says, f"{len(data['marked'])} marked", limit, tuple(working), remedy)


@rule(
    NAME,
    topic="finish",
    title="Tamper-resistant receptacles",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
)
def tamper_resistance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles of 15 and 20 A within a child's reach are tamper-resistant, and so marked.

    Left out are those higher than the code's limit, those that are part of equipment, and
    those kept for one appliance that stands before them.
    """
    limit = site.rulebook.get(f"{NAME}.below_mm")
    if limit is None:
        return
    for name, boxes in boxes_by_room(site, lambda box: _asked(box, limit.value)):
        found: dict[bool | None, list[str]] = {True: [], False: [], None: []}
        for box in boxes:
            found[_marked(box)].append(box.id)
        data = {"marked": found[True], "plain": found[False], "unseen": found[None]}
        verdict = Verdict.MEETS
        if found[None]:
            verdict = Verdict.LOOK
        if found[False]:
            verdict = Verdict.SHORT
        spot = site.room_spot(site.rooms[name])
        yield Finding(this, name, verdict, spot, data | {"below": limit.value}, (limit,))


def _asked(box: Box, below: float) -> bool:
    height = height_of(box)
    if height is not None:
        low = height <= below + EPSILON
    else:
        low = box.place.surface == "wall"
    return low and any(_within_reach(device) for device in box.devices)


def _within_reach(device: Device) -> bool:
    return (
        device.kind is DeviceKind.RECEPTACLE
        and device.poles == 1
        and (device.amperes or 0) <= HIGHEST_A
        and not (device.part_of_equipment or device.dedicated_to)
    )


def _marked(box: Box) -> bool | None:
    """Whether all of them are marked; None when nobody looked at one of them."""
    states = []
    for device in box.devices:
        if _within_reach(device):
            states.append(device.tamper_resistant)
    if False in states:
        return False
    if None in states:
        return None
    return True
