"""The front edge of a box against the finished surface."""

from collections.abc import Iterator

from inspections.checker.asking.points import Asked, Point, judged, measure_at_most, tapes, teller
from inspections.checker.asking.visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, InSpace
from ..site import HouseByCode

NAME = "box-flush"
REMEDY = "Bring the box forward, or put on an extension."
WORDS = {
    "setback_mm": Asked("behind a surface that does not burn", REMEDY, "at most"),
    "combustible_mm": Asked("behind a surface that burns", REMEDY, "at most"),
    "burns": Asked("whether the surface around it burns", REMEDY),
}


@rule(
    NAME,
    topic="boxes",
    title="Boxes flush with the finished surface",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "setback_mm", "combustible_mm"),
)
def box_flush(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The front edge of a box stands little behind a surface that does not burn.

    Behind wood or another surface that burns it does not stand back at all. Boxes without a
    finished surface around them are left out.
    """
    book = site.rulebook
    if f"{NAME}.setback_mm" not in book:
        return
    limits = (book[f"{NAME}.setback_mm"], book[f"{NAME}.combustible_mm"])
    plain, burning = limits[0].value, limits[1].value

    def judge(box: Box) -> Judged:
        measured = box.setback_mm
        loose, tight = (
            measure_at_most("setback_mm", measured, plain),
            measure_at_most("combustible_mm", measured, burning),
        )
        if box.surface_combustible is not None:
            return judged([tight if box.surface_combustible else loose])
        if loose.holds == tight.holds:
            return judged([loose])
        return judged([loose, Point("burns", None, None, None, eyes=False)])

    boxes = (box for box in site.house.boxes if not isinstance(box.place, InSpace))
    yield from boxes_judged(this, site, boxes, judge, limits)
