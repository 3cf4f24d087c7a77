"""Receptacles that a child cannot put a pin into."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Length, Text, Value, message
from inspections.checker.asking.finish_items import boxes_by_room
from inspections.checker.asking.fixing import device_path, done
from inspections.checker.asking.fixtures import height_of
from inspections.checker.asking.lines import in_order, named_or_counted, parts_named_in
from inspections.checker.asking.points import limit_rounding
from inspections.checker.asking.visual import COUNTED, HERE, PartKind
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "tamper-resistance"
HIGHEST_A = 20  # larger receptacles are of another configuration
OK = message(f"{NAME}.ok", "Every receptacle here is tamper-resistant.")
PLAIN = message(
    f"{NAME}.plain",
    "Receptacles {ids} are not tamper-resistant.",
    one="Receptacle {ids} is not tamper-resistant.",
)
PLAIN_COUNT = message(f"{NAME}.plain-count", "{n} receptacles are not tamper-resistant.")
CHANGE = message(
    f"{NAME}.remedy", "Replace them with ones marked TR.", one="Replace it with one marked TR."
)
VERIFY = message(f"{NAME}.verify", "Each receptacle is marked tamper-resistant.")
CHECK = message(f"{NAME}.verify.remedy", "Check each for the letters TR.")
REACH = message(f"{NAME}.reach", "Required up to {limit} above the floor.")
MARKED_LINE = message(f"{NAME}.marked-line", "Tamper-resistant: {boxes}.")
PLAIN_LINE = message(f"{NAME}.plain-line", "Not tamper-resistant: {boxes}.")
UNSEEN_LINE = message(f"{NAME}.unseen-line", "Not recorded yet: {boxes}.")


@dataclass(frozen=True, slots=True)
class TamperResistanceFacts:
    """The boxes of a room with receptacles within reach, by what is recorded of their mark."""

    below_mm: float
    marked: frozenset[str]
    plain: frozenset[str]
    unseen: frozenset[str]


def tell(finding: Finding) -> FindingWords:
    """Which receptacles of the room are tamper-resistant, which are not, and which to check."""
    facts: TamperResistanceFacts = finding.facts
    every = len(facts.marked) + len(facts.plain) + len(facts.unseen)
    says = OK()
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        says = named_or_counted(PLAIN, PLAIN_COUNT, facts.plain)
        remedy = CHANGE(n=len(facts.plain))
    elif finding.verdict is Verdict.VERIFY:
        says = HERE(checks=VERIFY(), parts=COUNTED[PartKind.BOX](n=len(facts.unseen)))
        remedy = CHECK()
    return FindingWords(says, len(facts.marked), every, _working(facts), remedy)


def _working(facts: TamperResistanceFacts) -> tuple[Text, ...]:
    limit = Length(facts.below_mm, limit_rounding(Comparator.AT_LEAST))
    lines = [REACH(limit=limit)]
    by_line = (
        (MARKED_LINE, facts.marked),
        (PLAIN_LINE, facts.plain),
        (UNSEEN_LINE, facts.unseen),
    )
    for line, boxes in by_line:
        if boxes:
            lines.append(line(boxes=parts_named_in(boxes)))
    return tuple(lines)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle that is marked so."""
    facts = finding.facts
    for box in in_order(facts.plain | facts.unseen):
        path = device_path(house, box, DeviceKind.RECEPTACLE)
        yield done((*path, "tamper_resistant"))


@rule(
    NAME,
    topic="finish",
    title="Tamper-resistant receptacles",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
    facts=TamperResistanceFacts,
    fixes=_fixes,
)
def tamper_resistance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles of 15 and 20 A within a child's reach are tamper-resistant, and so marked.

    Left out are those higher than the code's limit, those that are part of equipment, and those
    kept for one appliance in front of them.
    """
    limit = site.rulebook.get(f"{NAME}.below_mm")
    if limit is None:
        return
    for name, boxes in boxes_by_room(site, lambda box: _asked(box, limit.value)):
        found: dict[bool | None, set[str]] = {True: set(), False: set(), None: set()}
        for box in boxes:
            found[_marked(box)].add(box.id)
        facts = TamperResistanceFacts(
            limit.value,
            marked=frozenset(found[True]),
            plain=frozenset(found[False]),
            unseen=frozenset(found[None]),
        )
        verdict = Verdict.OK
        if facts.unseen:
            verdict = Verdict.VERIFY
        if facts.plain:
            verdict = Verdict.NOT_TO_CODE
        yield Finding(this, name, verdict, site.room_spot(site.rooms[name]), facts, (limit,))


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
