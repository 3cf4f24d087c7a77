"""Cables whole along their run."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import part_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, cables_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable
from ..site import HouseByCode

NAME = "cable-damage"
WORDS = point_words(
    NAME,
    {
        "whole": PointWords(
            wrong="Cable {part} is damaged.",
            ok="The sheath of cable {part} is whole.",
            missing="whether the sheath of cable {part} is whole",
            remedy="Pull a new one, or splice it in a box.",
            verify="Cable sheaths are whole from end to end.",
        ),
    },
)


@rule(
    NAME,
    topic="cables",
    title="Cables undamaged",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=part_facts("cables", WORDS, whole="undamaged"),
)
def cable_damage(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No cable is cut, crushed, scorched or torn; a damaged one is drawn anew."""
    limit = site.rulebook.get(f"{NAME}.whole")
    if limit is None or not limit.value:
        return

    def judge(cable: Cable) -> Judged:
        return judged(PointsFacts(cable.id, (is_so("whole", cable.undamaged),)))

    yield from cables_judged(this, site, site.house.cables, judge, (limit,))
