"""Unused openings of a box, closed."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, judged, measure_at_most, teller
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..site import HouseByCode

NAME = "box-openings"
WORDS = {"open_holes": Asked("unused openings left open", "Close them with plugs.", "at most")}


@rule(NAME, topic="boxes", title="Unused openings closed", tell=teller(WORDS), scope=Scope.ROOM)
def box_openings(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """An opening of a box that no cable uses is closed, so that nothing gets in or out."""
    limit = site.rulebook.get(f"{NAME}.open_holes")
    if limit is None:
        return

    def judge(box: Box) -> Judged:
        return judged([measure_at_most("open_holes", box.open_holes, limit.value)])

    yield from boxes_judged(this, site, site.house.boxes, judge, (limit,))
