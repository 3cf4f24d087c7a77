"""Communication cables held by supports of their own."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, teller
from inspections.checker.asking.loose_visual import Round

from ..finding import Finding, Rule, Scope, rule
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
    for cable in site.house.cables:
        if not cable.kind.carries_power:
            others[cable.id] = cable
    here = Round(this, site, (limit,))
    done = set()
    for seen in site.house.fastenings:
        names = set(seen.cables)
        if names & others.keys():
            for name in seen.cables:
                done.add((name, seen.room))
            found = judged([is_so("alone", names <= others.keys())])
            yield from here.part(seen, "support", found)
    yield from here.remaining(others.values(), done, judged([is_so("alone", None)]))
    yield from here.looks()
