"""Joint boxes of recessed lights."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import recessed_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.recessed import recessed_judged
from inspections.checker.asking.visual import Judged, RoomFacts

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, Recessed
from ..site import HouseByCode

NAME = "recessed-joint-boxes"
WORDS = point_words(
    NAME,
    {
        "accessible": PointWords(
            wrong="The junction box of light {part} cannot be reached.",
            ok="The junction box of light {part} can be reached.",
            missing="whether the junction box of light {part} can be reached",
            remedy="Turn or move the light until you can get at it.",
            verify="Each junction box can be reached through the opening or from above.",
        ),
    },
)


@rule(
    NAME,
    topic="recessed luminaires",
    title="Junction boxes of recessed lights",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=recessed_facts(WORDS, accessible="joints_accessible"),
)
def recessed_joint_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The junction box of a recessed light can be reached once the ceiling is closed.

    Through the opening when the light is taken out, or from above.
    """
    limit = site.rulebook.get(f"{NAME}.accessible")
    if limit is None or not limit.value:
        return

    def judge(box: Box, found: Recessed) -> Judged:
        return judged(PointsFacts(box.id, (is_so("accessible", found.joints_accessible),)))

    yield from recessed_judged(this, site, judge, (limit,))
