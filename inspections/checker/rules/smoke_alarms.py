"""Smoke alarms in bedrooms, outside them, and on each storey."""

from collections.abc import Iterable, Iterator

from inspections.checker.asking.alarms import NOT_LIVED_IN, SMOKE, alarms_in, sleeping_areas
from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.rooms import RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed, plural

NAME = "smoke-alarms"


def tell(finding: Finding) -> FindingWords:
    """Which alarms there are where one is asked for."""
    data = finding.facts
    where, alarms = data["where"], listed(data["alarms"])
    figure = plural(len(data["alarms"]), "smoke alarm")
    says = {
        Verdict.MEETS: f"There is {figure} {where}.",
        Verdict.SHORT: f"There is no smoke alarm {where}.",
        Verdict.LOOK: f"Look whether each sleeping area has a smoke alarm outside: {figure} in "
        f"{plural(data['halls'], 'hallway')}.",
    }
    remedies = {
        Verdict.SHORT: "Add one, joined to the others.",
        Verdict.LOOK: "Look at the doors of the bedrooms and tick, or add an alarm.",
    }
    working = (f"asked for {where}: 1; found: {alarms or 'none'}",)
    return verdict_words(finding, figure, f"a smoke alarm {where}", working, says, remedies)


@rule(NAME, topic="alarms", title="Smoke alarms", tell=tell, scope=Scope.ALARMS)
def smoke_alarms(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A smoke alarm is in each bedroom, outside each sleeping area, and on each storey.

    The hallways of a storey are taken to be outside its bedrooms; on a storey without a hallway
    any room that is lived in. Attics, crawl spaces and garages are no storeys.
    """
    for name, asking in (
        ("bedrooms", _in_bedrooms),
        ("outside", _outside_bedrooms),
        ("storeys", _on_storeys),
    ):
        limit = site.rulebook.get(f"{NAME}.{name}")
        if limit and limit.value:
            yield from asking(this, site, limit)


def _in_bedrooms(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for room in site.house.rooms:
        if room.kind is RoomKind.BEDROOM:
            alarms = _ids(alarms_in(site, room, SMOKE))
            yield _finding(this, site, room.id, f"in {room.name}", alarms, limit)


def _outside_bedrooms(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for area in sleeping_areas(site, SMOKE):
        where = f"outside the bedrooms of {site.storey_name(area.storey)}"
        halls = []
        for hall in area.halls:
            halls.append(hall.id)
        subject = f"outside/{area.storey}"
        yield _finding(this, site, subject, where, _ids(area.outside), limit, halls)


def _on_storeys(this: Rule, site: HouseByCode, limit: Limit) -> Iterator[Finding]:
    for storey, rooms in site.rooms_on.items():
        lived_in = False
        alarms: list[str] = []
        for room in rooms:
            if room.kind not in NOT_LIVED_IN:
                lived_in = True
                alarms += _ids(alarms_in(site, room, SMOKE))
        if lived_in:
            where = f"on {site.storey_name(storey)}"
            yield _finding(this, site, f"storey/{storey}", where, alarms, limit)


def _ids(boxes: Iterable[Box]) -> list[str]:
    return [box.id for box in boxes]


def _finding(
    this: Rule,
    site: HouseByCode,
    subject: str,
    where: str,
    alarms: list[str],
    limit: Limit,
    halls: list[str] | None = None,
) -> Finding:
    halls = halls or []
    several = len(halls) > 1 and {site.boxes[box].room for box in alarms} != set(halls)
    if not alarms:
        verdict = Verdict.SHORT
    else:
        verdict = Verdict.MEETS
        if several:
            verdict = Verdict.LOOK
    kind, _, storey = subject.partition("/")
    if storey:
        rooms = site.rooms_on[storey]
    else:
        rooms = [site.rooms[kind]]
    room = next((room for room in rooms if room.id in halls), rooms[0])
    data = {"where": where, "alarms": alarms, "halls": len(halls)}
    return Finding(this, subject, verdict, site.room_spot(room), data, (limit,))
