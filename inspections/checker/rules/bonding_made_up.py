"""Bonding conductors joined in every box before the walls close."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.visual import PartKind, RoomFacts, Round, room_words

from ..facts import digest
from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..site import HouseByCode

NAME = "bonding-made-up"
SPLICED = {
    "NEC": message(
        f"{NAME}.us",
        "Equipment grounding conductors are spliced together, "
        "with a tail to each device and metal box.",
    ),
    "CEC": message(
        f"{NAME}.canada",
        "Bonding conductors are spliced together, with a tail to each device and metal box.",
    ),
}


def tell(finding: Finding) -> FindingWords:
    """The boxes of the room to look into."""
    return room_words(finding.facts, (SPLICED[finding.code](),))


@rule(
    NAME,
    topic="panel",
    title="Bonds and grounds made up",
    tell=tell,
    scope=Scope.ROOM,
    facts=RoomFacts,
    workmanship=True,
)
def bonding_made_up(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """In every box the bonding conductors are joined to one another, and to a metal box.

    Taking a device out leaves the others bonded. One line for each room covers its boxes.
    """
    limit = site.rulebook.get(f"{NAME}.joined")
    if limit is None or not limit.value:
        return
    here = Round(this, site, (limit,))
    for box in site.house.boxes:
        cables = []
        for entry in site.wiring.power_at(box.id):
            if entry.cable.bonding:
                cables.append(entry.cable.id)
        if cables:
            rests_on = digest((box.material, tuple(sorted(cables))))
            here.wait(box.room, PartKind.BOX, box.id, rests_on)
    yield from here.rooms_to_verify()
