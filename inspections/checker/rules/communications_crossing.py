"""Communication cables that cross power cables."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, at_least, judged, teller
from inspections.checker.asking.loose_visual import Round

from ..finding import Finding, Rule, Scope, rule
from ..site import HouseByCode

NAME = "communications-crossing"
WORDS = {
    "crossing_deg": Asked(
        "degrees at which they cross", "Turn it so that it crosses square.", "at least"
    ),
}


@rule(
    NAME,
    topic="communications",
    title="Communication cables cross power square",
    tell=teller(WORDS),
    scope=Scope.WIRING,
)
def communications_crossing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where a communication cable crosses a power cable it crosses square.

    Side by side the one would hear the other. Where no crossing is recorded nothing is asked.
    """
    limit = site.rulebook.get(f"{NAME}.crossing_deg")
    if limit is None:
        return
    here = Round(this, site, (limit,))
    for found in site.house.separations:
        first, second = (site.wiring.cables[name] for name in found.cables)
        if found.crossing_deg is None or first.kind.carries_power == second.kind.carries_power:
            continue
        power, other = (first, second) if first.kind.carries_power else (second, first)
        subject = here.numbered(f"{other.id}/{power.id}/{found.room}")
        point = at_least("crossing_deg", found.crossing_deg, limit.value)
        yield from here.run(other, found.room, judged([point]), subject, other.id)
