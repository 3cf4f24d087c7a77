"""What settles a space along walls or a counter that is not within reach of a receptacle."""

from collections.abc import Iterator

from inspections.checker.asking.coverage import Lack, Lacking, LineFacts, LineGap
from inspections.checker.asking.fixing import (
    added_receptacle,
    figure,
    room_named,
    usual_height,
    wall_place,
)
from inspections.checker.finding import Finding, Verdict
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

OF_BOX = {
    Lack.HIGH: "height_mm",
    Lack.FLOOR: "from_wall_mm",
    Lack.OVERHANG: "overhang_mm",
    Lack.ALONG: "at_mm",
}
"""The fact of a box's place that is missing."""


def line_fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle in each stretch that none reaches; while a fact is missing, that fact."""
    facts = finding.facts
    if not isinstance(facts, LineFacts):
        return
    if finding.verdict is Verdict.INFO_NEEDED:
        yield from lacking_fixes(facts)
        return
    for gap in facts.gaps:
        yield receptacle_in(finding, house, gap, usual_height(house))


def lacking_fixes(facts: LineFacts) -> Iterator[Fix]:
    """The facts of boxes that are missing."""
    for each in sorted(facts.missing, key=_order):
        if each.what in OF_BOX:
            yield figure(("boxes", each.part, "place", OF_BOX[each.what]))


def _order(each: Lacking) -> tuple[str, str]:
    return each.part, each.what.value


def receptacle_in(finding: Finding, house: House, gap: LineGap, height_mm: float) -> Fix:
    """A receptacle in the middle of a stretch, or as far along it as it reaches."""
    line = FloorLine(room_named(house, finding.spot.room))
    along = min(gap.width_mm / 2, finding.facts.reach_mm)
    wall, at_mm = line.wall_at(line.position(gap.wall, gap.at_mm) + along)
    return added_receptacle(house, wall_place(wall, at_mm, height_mm), finding.spot.room)
