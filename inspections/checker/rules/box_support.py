"""Every box fixed to framing."""

from collections.abc import Iterator

from inspections.checker.asking.appliance_boxes import is_heavy_duty
from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..site import HouseByCode

NAME = "box-support"
WORDS = point_words(
    NAME,
    {
        "fixed": PointWords(
            wrong="Box {part} is loose.",
            ok="Box {part} is secured to framing.",
            missing="whether box {part} is secured to framing",
            remedy="Secure it to framing so that it does not move.",
            verify="Every box is secured to framing and does not move.",
        ),
    },
)


@rule(
    NAME,
    topic="boxes",
    title="Box support",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(WORDS, fixed="fixed"),
)
def box_support(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Every box is fixed to framing, straight or by a bracket, and does not give.

    Boxes for a range or a dryer are checked with their place.
    """
    limit = site.rulebook.get(f"{NAME}.fixed")
    if limit is None or not limit.value:
        return

    def judge(box: Box) -> Judged:
        return judged(PointsFacts(box.id, (is_so("fixed", box.fixed),)))

    boxes = (box for box in site.house.boxes if not is_heavy_duty(box))
    yield from boxes_judged(this, site, boxes, judge, (limit,))
