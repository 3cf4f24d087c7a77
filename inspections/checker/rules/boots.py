"""Boots, or boxes that seal to the vapour barrier, in insulated outside walls."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from config.messages.message import Message, Value, message
from inspections.checker.asking.fixing import done
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged, room_words
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Insulation, InsulationKind, OnWall
from ..site import HouseByCode

NAME = "boots"
BARRIER: Mapping[str, Message] = {
    "NEC": message(f"{NAME}.air-barrier", "air barrier"),
    "CEC": message(f"{NAME}.vapour-barrier", "vapour barrier"),
}
"""What is kept whole, by the code."""
KINDS: Mapping[InsulationKind, Message] = {
    InsulationKind.BATTS: message(f"{NAME}.batts", "batts"),
    InsulationKind.BLOWN: message(f"{NAME}.blown", "blown insulation"),
    InsulationKind.SPRAY_FOAM: message(f"{NAME}.spray-foam", "spray foam"),
    InsulationKind.RIGID: message(f"{NAME}.rigid", "rigid insulation"),
}
PIERCED = message(f"{NAME}.pierced", "Box {box} pierces the {barrier} with no boot.")
SEALED = message(f"{NAME}.sealed", "Box {box} is in a boot or seals to the {barrier}.")
FOAMED = message(f"{NAME}.foamed", "At box {box} the insulation is the {barrier}.")
INSTALL = message(f"{NAME}.install", "Install a boot, or a box with a seal, before insulation.")
RECORD = message(f"{NAME}.record", "Record the insulation, or install a boot and record it.")
VERIFY = message(f"{NAME}.verify", "Boxes are in boots, or seal to the {barrier}.")
WHICH = message(f"{NAME}.which", "whether the insulation is the {barrier}")
BOOT = message(f"{NAME}.boot", "boot, or a box that seals")
NO_BOOT = message(f"{NAME}.no-boot", "no boot")
BOOT_MISSING = message(f"{NAME}.boot-missing", "boot")
IS_BARRIER = message(f"{NAME}.is-barrier", "{insulation}: the {barrier} itself")
IS_NOT_BARRIER = message(f"{NAME}.is-not-barrier", "{insulation}: not the {barrier}")


@dataclass(frozen=True, slots=True)
class BootFacts:
    """A box in an outside wall; each fact is None while it is not recorded."""

    box: str
    boot: bool | None
    insulation: InsulationKind | None
    is_barrier: bool | None


def tell(finding: Finding) -> FindingWords:
    """The boot, or the insulation that makes it needless."""
    facts = finding.facts
    barrier = BARRIER[finding.code]()
    if isinstance(facts, RoomFacts):
        return room_words(facts, (VERIFY(barrier=barrier),))
    working = (_boot_line(facts), _insulation_line(facts, barrier))
    remedy: Value = ""
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=WHICH(barrier=barrier))
        remedy = RECORD()
    elif finding.verdict is Verdict.NOT_TO_CODE:
        says = PIERCED(box=facts.box, barrier=barrier)
        remedy = INSTALL()
    elif facts.boot:
        says = SEALED(box=facts.box, barrier=barrier)
    else:
        says = FOAMED(box=facts.box, barrier=barrier)
    return FindingWords(says, working=working, remedy=remedy)


def _boot_line(facts: BootFacts) -> Value:
    if facts.boot is None:
        return EITHER_WAY(what=BOOT_MISSING())
    if facts.boot:
        return BOOT()
    return NO_BOOT()


def _insulation_line(facts: BootFacts, barrier: Value) -> Value:
    if facts.insulation is None or facts.is_barrier is None:
        missing = STILL_MISSING
        if facts.boot:
            missing = EITHER_WAY
        return missing(what=WHICH(barrier=barrier))
    kind = KINDS[facts.insulation]()
    if facts.is_barrier:
        return IS_BARRIER(insulation=kind, barrier=barrier)
    return IS_NOT_BARRIER(insulation=kind, barrier=barrier)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """A boot around it."""
    if isinstance(finding.facts, BootFacts):
        yield done(("boxes", finding.facts.box, "boot"))


@rule(
    NAME,
    topic="boxes",
    title="Boots in outside walls",
    tell=tell,
    scope=Scope.ROOM,
    facts=BootFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def boots(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box in an insulated outside wall would pierce the air and vapour barrier.

    It is in a boot, or is made to seal to the barrier, unless the insulation itself is the
    barrier. Rooms that nobody heats are left out.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.asked"):
        return
    limits = (book[f"{NAME}.asked"], book[f"{NAME}.unheated"])
    outside = set()
    for room in site.house.rooms:
        if room.kind not in limits[1].value:
            for wall in room.walls:
                if wall.outside:
                    outside.add((room.id, wall.id))
    boxes = []
    for box in site.house.boxes:
        if isinstance(box.place, OnWall) and (box.room, box.place.wall) in outside:
            boxes.append(box)
    filled = site.house.insulation
    yield from boxes_judged(this, site, boxes, lambda box: _judged(box, filled), limits)


def _judged(box: Box, filled: Insulation | None) -> Judged:
    kind, barrier = None, None
    if filled:
        kind, barrier = filled.kind, filled.vapour_barrier
    verdict = Verdict.NOT_TO_CODE
    if barrier is None:
        verdict = Verdict.INFO_NEEDED
    if barrier or box.boot:
        verdict = Verdict.OK
    elif box.boot is None:
        verdict = Verdict.VERIFY
    return verdict, BootFacts(box.id, box.boot, kind, barrier)
