"""Cables whole along their run."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, teller
from inspections.checker.asking.loose_visual import Judged, cables_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable
from ..site import HouseByCode

NAME = "cable-damage"
WORDS = {"whole": Asked("sheath whole along its run", "Draw in a new cable, or box the joint.")}


@rule(NAME, topic="cables", title="Cables undamaged", tell=teller(WORDS), scope=Scope.WIRING)
def cable_damage(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No cable is cut, crushed, scorched or torn; a damaged one is drawn anew."""
    limit = site.rulebook.get(f"{NAME}.whole")
    if limit is None or not limit.value:
        return

    def judge(cable: Cable) -> Judged:
        return judged([is_so("whole", cable.undamaged)])

    yield from cables_judged(this, site, site.house.cables, judge, (limit,))
