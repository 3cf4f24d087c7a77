"""Bonding conductors joined in every box before the walls close."""

from collections.abc import Iterator

from inspections.checker.asking.loose_visual import Round, tell_look

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..site import HouseByCode

NAME = "bonding-made-up"


def tell(finding: Finding) -> FindingWords:
    """The boxes of the room to look into."""
    asked = "bonding conductors joined by a listed connector, with a tail for each device"
    return tell_look(finding, asked, asked)


@rule(NAME, topic="panel", title="Bonding made up", tell=tell, scope=Scope.ROOM)
def bonding_made_up(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """In every box the bonding conductors are joined to one another, and to a metal box.

    Taking a device out leaves the others bonded. One look for each room covers its boxes.
    """
    limit = site.rulebook.get(f"{NAME}.joined")
    if limit is None or not limit.value:
        return
    here = Round(this, site, (limit,))
    for box in site.house.boxes:
        cables = []
        for e in site.wiring.power_at(box.id):
            if e.cable.bonding:
                cables.append(e.cable)
        if cables:
            ids = []
            for cable in cables:
                ids.append(cable.id)
            facts = (box.material.value, ids)
            here.wait(box.room, box.id, facts)
    yield from here.looks()
