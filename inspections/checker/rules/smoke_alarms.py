"""Smoke alarms in bedrooms, outside them, and on each storey."""

from collections.abc import Iterator

from inspections.checker.asking.alarms import NOT_LIVED_IN, SMOKE, alarms_in, sleeping_areas
from inspections.checker.asking.sentences import verdict_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed, plural

NAME = "smoke-alarms"


def tell(finding: Finding) -> FindingWords:
    """Which alarms there are where one is asked for."""
    data = finding.data
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
    book = site.rulebook
    bedrooms, outside, storeys = (
        book.get(f"{NAME}.{x}") for x in ("bedrooms", "outside", "storeys")
    )
    if bedrooms and bedrooms.value:
        for room in site.house.rooms:
            if room.kind is RoomKind.BEDROOM:
                alarms = []
                for box in alarms_in(site, room, SMOKE):
                    alarms.append(box.id)
                yield _finding(this, site, room.id, f"in {room.name}", alarms, bedrooms)
    if outside and outside.value:
        for area in sleeping_areas(site, SMOKE):
            name = site.storey_name(area.storey)
            where = f"outside the bedrooms of {name}"
            alarms = []
            for box in area.outside:
                alarms.append(box.id)
            halls = []
            for hall in area.halls:
                halls.append(hall.id)
            yield _finding(this, site, f"outside/{area.storey}", where, alarms, outside, halls)
    if storeys and storeys.value:
        for storey, rooms in site.rooms_on.items():
            lived_in = []
            for room in rooms:
                if room.kind not in NOT_LIVED_IN:
                    lived_in.append(room)
            alarms = []
            for room in lived_in:
                for box in alarms_in(site, room, SMOKE):
                    alarms.append(box.id)
            if lived_in:
                where = f"on {site.storey_name(storey)}"
                yield _finding(this, site, f"storey/{storey}", where, alarms, storeys)


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
