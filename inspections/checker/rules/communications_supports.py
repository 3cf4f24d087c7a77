"""Communication cables held by supports of their own."""

from collections.abc import Iterator

from inspections.checker.asking.points import Asked, is_so, judged, teller
from inspections.checker.asking.visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Fastening
from ..site import HouseByCode

NAME = "communications-supports"
WORDS = {
    "alone": Asked(
        "held by supports of its own, not with a power cable",
        "Take it off the power cable's support and give it its own.",
    ),
}


@rule(
    NAME,
    topic="communications",
    title="Communication cables on their own supports",
    tell=teller(WORDS),
    scope=Scope.WIRING,
)
def communications_supports(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables hang from supports of their own, not from power cables or their staples.

    A cable of which no fastening is recorded in a room where it ends is left to eyes.
    """
    limit = site.rulebook.get(f"{NAME}.alone")
    if limit is None or not limit.value:
        return
    others = {}
    for c in site.house.cables:
        if not c.kind.carries_power:
            others[c.id] = c

    def judge(seen: Fastening) -> Judged:
        return judged([is_so("alone", set(seen.cables) <= others.keys())])

    here, done = Round(this, site, (limit,)), set()
    for seen in site.house.fastenings:
        if others.keys() & set(seen.cables):
            for name in seen.cables:
                done.add((name, seen.room))
            yield from here.part(seen, "support", judge(seen))
    asked = judged([is_so("alone", None)])
    for cable in others.values():
        if rooms := [room for room in site.rooms_of[cable.id] if (cable.id, room) not in done]:
            yield from here.cable(cable, asked, rooms)
    yield from here.looks()
