"""Communication cables held by supports of their own."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import done, power_alone
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import PartKind, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, Rule, Scope, rule
from ..site import HouseByCode

NAME = "communications-supports"
WORDS = point_words(
    NAME,
    {
        "alone": PointWords(
            wrong="Support {part} holds communication and power cables together.",
            ok="Support {part} holds no power cable.",
            missing="what support {part} holds",
            remedy="Install a second support for communications.",
            verify="No support or staple holds both communication and power cables.",
        ),
    },
)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The power cables alone on the support, the others on supports of their own."""
    if isinstance(finding.facts, PointsFacts):
        part = finding.facts.part
        seen = next(each for each in house.fastenings if each.id == part)
        yield done(("fastenings", part, "cables"), power_alone(house, seen.cables))


@rule(
    NAME,
    topic="communications",
    title="Separate supports for communications",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def communications_supports(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables hang from supports of their own, not from power cables or their staples.

    A cable of which no fastening is recorded in a room where it ends is verified by eye.
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
            facts = PointsFacts(seen.id, (is_so("alone", names <= others.keys()),))
            yield from here.part(seen, PartKind.SUPPORT, judged(facts))
    unseen = PointsFacts("", (is_so("alone", None),))
    yield from here.remaining(others.values(), done, judged(unseen))
    yield from here.rooms_to_verify()
