"""Boots, or boxes that seal to the vapour barrier, in insulated outside walls."""

from collections.abc import Iterator

from inspections.checker.asking.loose_visual import (
    Judged,
    boxes_judged,
    measured_finding,
    tell_look,
)

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Insulation, OnWall
from ..site import HouseByCode

NAME = "boots"
LIMIT = "a boot or an equal barrier"


def tell(finding: Finding) -> FindingWords:
    """The boot, or the insulation that makes it needless."""
    data = finding.facts
    if "look" in data:
        asks = "each stands in a boot or is made to seal, unless the insulation is the barrier"
        return tell_look(finding, asks, LIMIT)
    boot, kind = data["boot"], data["insulation"].replace("_", " ")
    figure = {True: "a boot", False: "no boot", None: "boot not recorded"}[boot]
    filled = {True: "is", False: "is not", None: "may or may not be"}[data["barrier"]]
    about = f"{kind or 'insulation not recorded'}: it {filled} itself the vapour barrier"
    says = {
        Verdict.MEETS: "The vapour barrier is whole at this box.",
        Verdict.SHORT: "The box goes through the vapour barrier without a boot.",
        Verdict.UNKNOWN: "Nobody recorded whether the insulation is itself the vapour barrier.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Put a boot on it, or a box made to seal, before the wall is insulated.",
    }.get(finding.verdict, "Record the insulation, or put a boot on the box and record that.")
    return measured_finding(finding, figure, LIMIT, says, remedy, figure, about)


@rule(NAME, topic="boxes", title="Boots in outside walls", tell=tell, scope=Scope.ROOM)
def boots(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box in an insulated outside wall would pierce the air and vapour barrier.

    It stands in a boot, or is made to seal to the barrier, unless the insulation itself is the
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
    barrier = None
    if filled:
        barrier = filled.vapour_barrier
    verdict = Verdict.SHORT
    if barrier is None:
        verdict = Verdict.UNKNOWN
    if barrier or box.boot:
        verdict = Verdict.MEETS
    elif box.boot is None:
        verdict = Verdict.LOOK
    kind = ""
    if filled:
        kind = filled.kind.value
    return verdict, {"boot": box.boot, "insulation": kind, "barrier": barrier}
