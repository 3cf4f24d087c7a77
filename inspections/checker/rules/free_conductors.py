"""Free conductor left in a box for the device or the splice."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import DUST, Asked, at_least, judged, tapes, teller
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..site import HouseByCode

NAME = "free-conductors"
REMEDY = "Pull more cable in; a splice may lengthen it where the code lets it."
WORDS = {
    "free_mm": Asked("free conductor", REMEDY, "at least"),
    "outside_mm": Asked("conductor outside the opening", REMEDY, "at least"),
}


@rule(
    NAME,
    topic="boxes",
    title="Free conductor in boxes",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "free_mm", "outside_mm"),
)
def free_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where a cable ends in a box, enough conductor is left free to make up the device.

    It is measured from where the conductor leaves its sheath. Where the code says so, it also
    reaches far enough outside an opening that is small in any direction. Conductors that pass
    unbroken are left out.
    """
    book = site.rulebook
    free, outside = book.get(f"{NAME}.free_mm"), book.get(f"{NAME}.outside_mm")
    if free is None:
        return
    opening = book.get(f"{NAME}.opening_mm")
    limits = []
    for limit in (free, outside, opening):
        if limit:
            limits.append(limit)
    small = 0.0
    if opening:
        small = opening.value - DUST

    def judge(box: Box) -> Judged:
        points = [at_least("free_mm", box.free_mm, free.value)]
        if outside and (box.opening_mm is None or box.opening_mm < small):
            points.append(at_least("outside_mm", box.outside_mm, outside.value))
        return judged(points, opening=box.opening_mm)

    boxes = (box for box in site.house.boxes if _has_ending(site, box))
    yield from boxes_judged(this, site, boxes, judge, tuple(limits))


def _has_ending(site: HouseByCode, box: Box) -> bool:
    for entry in site.wiring.power_at(box.id):
        if not entry.passes:
            return True
    return False
