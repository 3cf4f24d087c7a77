"""Unused openings of a box, closed."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    Plural,
    PointsFacts,
    PointWords,
    at_most,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..measures import Comparator
from ..site import HouseByCode

NAME = "box-openings"
OPEN = message(
    f"{NAME}.open",
    "{figure} open knockouts in box {part}.",
    one="{figure} open knockout in box {part}.",
    count="figure",
)
WORDS = point_words(
    NAME,
    {
        "open_holes": PointWords(
            wrong=OPEN,
            ok=OPEN,
            missing="how many knockouts of box {part} are open",
            remedy=Plural(one="Close it with a plug.", many="Close them with plugs."),
            verify="Knockouts without a cable are closed.",
            way=Comparator.AT_MOST,
        ),
    },
)


@rule(
    NAME,
    topic="boxes",
    title="Unused openings closed",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(WORDS, open_holes="open_holes"),
)
def box_openings(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """An opening of a box that no cable uses is closed, so that nothing gets in or out."""
    limit = site.rulebook.get(f"{NAME}.open_holes")
    if limit is None:
        return

    def judge(box: Box) -> Judged:
        found = at_most("open_holes", box.open_holes, limit.value)
        return judged(PointsFacts(box.id, (found,)))

    yield from boxes_judged(this, site, site.house.boxes, judge, (limit,))
