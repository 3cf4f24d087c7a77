"""Free conductor left in a box for the device or the splice."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    DUST,
    PointsFacts,
    PointWords,
    at_least,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..measures import Comparator
from ..site import HouseByCode

NAME = "free-conductors"
FREE = "Box {part} has {figure} of free conductor; {limit} minimum."
OUTSIDE = "Conductors reach {figure} outside box {part}; {limit} minimum."
WORDS = point_words(
    NAME,
    {
        "free_mm": PointWords(
            wrong=FREE,
            ok=FREE,
            missing="how much free conductor box {part} has",
            remedy="Pull in more cable, or add tails where the code allows.",
            verify="Every box has {limit} or more of free conductor.",
            tape="free conductor",
            way=Comparator.AT_LEAST,
        ),
        "outside_mm": PointWords(
            wrong=OUTSIDE,
            ok=OUTSIDE,
            missing="how far conductors reach outside box {part}",
            remedy="Bring the ends farther out.",
            verify="Conductors reach {limit} or more outside small openings.",
            tape="conductor outside the opening",
            way=Comparator.AT_LEAST,
        ),
    },
)


@dataclass(frozen=True, slots=True)
class FreeConductorFacts(PointsFacts):
    """What is free in a box, and the opening by which the code requires it."""

    opening_mm: float | None = None


@rule(
    NAME,
    topic="boxes",
    title="Free conductor in boxes",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "free_mm", "outside_mm"),
    facts=FreeConductorFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(WORDS, free_mm="free_mm", outside_mm="outside_mm"),
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
        return judged(FreeConductorFacts(box.id, tuple(points), box.opening_mm))

    boxes = (box for box in site.house.boxes if _has_ending(site, box))
    yield from boxes_judged(this, site, boxes, judge, tuple(limits))


def _has_ending(site: HouseByCode, box: Box) -> bool:
    for entry in site.wiring.power_at(box.id):
        if not entry.passes:
            return True
    return False
