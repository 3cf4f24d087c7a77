"""Boxes for range and dryer receptacles: firm, and where the appliance lets them be."""

from collections.abc import Iterator

from inspections.checker.asking.appliance_boxes import DRYER, RANGE, serves
from inspections.checker.asking.loose_points import (
    Asked,
    Point,
    is_so,
    judged,
    measure_at_most,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, OnWall
from ..house.rooms import InterruptionKind
from ..site import HouseByCode

NAME = "range-dryer-boxes"
WORDS = {
    "fixed": Asked("firmly fixed", "Fix it so that pulling the plug does not move it."),
    "height_mm": Asked(
        "centre of a range receptacle above the floor", "Bring it down behind the range.", "at most"
    ),
    "off_middle_mm": Asked(
        "a range receptacle off the middle of the range's space",
        "Move it to the middle of that space.",
        "at most",
    ),
}


@rule(
    NAME,
    topic="boxes",
    title="Range and dryer boxes",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "height_mm", "off_middle_mm"),
)
def range_dryer_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The box of a range or dryer receptacle is firmly fixed, since a heavy plug pulls at it.

    Where the code says so, a range receptacle stands low and near the middle of the space that
    the range will take, so that the range goes back to the wall.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    boxes = [box for box in site.house.boxes if serves(box, RANGE) or serves(box, DRYER)]

    def judge(box: Box) -> Judged:
        points = []
        if values.get("fixed"):
            points = [is_so("fixed", box.fixed)]
        if serves(box, RANGE) and isinstance(box.place, OnWall):
            if "height_mm" in values:
                points.append(
                    measure_at_most("height_mm", box.place.height_mm, values["height_mm"])
                )
            if "off_middle_mm" in values:
                points.append(_off_middle(site, box, box.place, values["off_middle_mm"]))
        return judged(points)

    yield from boxes_judged(this, site, boxes, judge, limits)


def _off_middle(site: HouseByCode, box: Box, place: OnWall, asked: float) -> Point:
    """How far the box stands from the middle of the nearest space for a range in its wall."""
    off = []
    for middle in _middles(site, box.room, place.wall):
        off.append(abs(place.at_mm - middle))
    return measure_at_most("off_middle_mm", min(off, default=None), asked)


def _middles(site: HouseByCode, room: str, wall: str) -> Iterator[float]:
    """The middles of the spaces for a range, from the left end of a wall."""
    for counter in site.counters_in[room]:
        start = 0.0
        for stretch in counter.along:
            for item in counter.interruptions:
                middle = item.at_mm + item.width_mm / 2 - start
                fits = 0 <= middle <= stretch.width_mm and stretch.wall == wall
                if item.kind is InterruptionKind.RANGE and fits:
                    yield stretch.at_mm + middle
            start += stretch.width_mm
