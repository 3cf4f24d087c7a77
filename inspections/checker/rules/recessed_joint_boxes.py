"""Joint boxes of recessed luminaires."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, teller
from inspections.checker.asking.loose_visual import Judged
from inspections.checker.asking.recessed import recessed_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Recessed
from ..site import HouseByCode

NAME = "recessed-joint-boxes"
WORDS = {
    "accessible": Asked(
        "joint box within reach through the opening or from above",
        "Turn or move the luminaire so that its joint box can be reached.",
    ),
}


@rule(
    NAME,
    topic="recessed luminaires",
    title="Joint boxes of recessed luminaires",
    tell=teller(WORDS),
    scope=Scope.ROOM,
)
def recessed_joint_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The joint box of a recessed luminaire can be reached once the ceiling is closed.

    Through the opening when the luminaire is taken out, or from above.
    """
    limit = site.rulebook.get(f"{NAME}.accessible")
    if limit is None or not limit.value:
        return

    def judge(found: Recessed) -> Judged:
        return judged([is_so("accessible", found.joints_accessible)])

    yield from recessed_judged(this, site, judge, (limit,))
