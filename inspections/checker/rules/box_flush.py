"""The front edge of a box against the finished surface."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    at_most,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, InSpace
from ..measures import Comparator
from ..site import HouseByCode

NAME = "box-flush"
WORDS = point_words(
    NAME,
    {
        "setback_mm": PointWords(
            wrong="Box {part} sits {figure} behind the finished surface; {limit} maximum.",
            ok="Box {part} sits {figure} behind the finished surface; {limit} maximum.",
            missing="how far box {part} sits behind the finished surface",
            remedy="Bring it forward or add an extender.",
            verify="Boxes in noncombustible surfaces (drywall, tile) sit {limit} back or less.",
            tape="from the front edge of the box to the finished surface",
            way=Comparator.AT_MOST,
        ),
        "combustible_mm": PointWords(
            wrong="Box {part} sits {figure} behind a combustible surface; it must be flush.",
            ok="Box {part} is flush with a combustible surface.",
            missing="how far box {part} sits behind the finished surface",
            remedy="Bring it forward or add an extender.",
            verify="Boxes in wood or another combustible surface are flush with it.",
            tape="from the front edge of the box to a combustible surface",
            way=Comparator.AT_MOST,
        ),
        "burns": PointWords(
            wrong="The surface around box {part} is combustible.",
            ok="The surface around box {part} is noncombustible.",
            missing="whether the surface around box {part} is combustible",
            remedy="Bring the box flush with it.",
        ),
    },
)


@rule(
    NAME,
    topic="boxes",
    title="Boxes flush with the finished surface",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "setback_mm", "combustible_mm"),
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(
        WORDS, setback_mm="setback_mm", combustible_mm="setback_mm", burns="surface_combustible"
    ),
)
def box_flush(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The front edge of a box sits close behind a noncombustible surface.

    In wood or another combustible surface it is flush. Boxes without a finished surface around them
    are left out.
    """
    book = site.rulebook
    if f"{NAME}.setback_mm" not in book:
        return
    limits = (book[f"{NAME}.setback_mm"], book[f"{NAME}.combustible_mm"])
    plain, burning = limits[0].value, limits[1].value

    def judge(box: Box) -> Judged:
        loose = at_most("setback_mm", box.setback_mm, plain)
        tight = at_most("combustible_mm", box.setback_mm, burning)
        points = (loose, Point("burns", None, None, None))
        if box.surface_combustible is not None:
            points = (tight if box.surface_combustible else loose,)
        elif loose.holds == tight.holds:
            points = (loose,)
        return judged(PointsFacts(box.id, points), not_by_eye=("burns",))

    boxes = (box for box in site.house.boxes if not isinstance(box.place, InSpace))
    yield from boxes_judged(this, site, boxes, judge, limits)
