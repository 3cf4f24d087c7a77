"""A receptacle for whoever services heating, cooling or refrigerating equipment."""

from collections.abc import Iterator
from math import hypot

from inspections.checker.asking.receptacles import for_general_use
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.power import Appliance
from ..house.rooms import Room
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode
from ..words import length, listed

NAME = "equipment-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The equipment and the receptacles on its level."""
    data, imperial = finding.facts, finding.imperial
    name, limit = data["name"], f"within {length(data['within'], imperial)}, on the same level"
    says = {
        Verdict.MEETS: f"A receptacle is {limit} of {name}.",
        Verdict.SHORT: f"No receptacle is on the same level as {name}.",
        Verdict.LOOK: f"Measure that a receptacle is {limit} of {name}.",
        Verdict.UNKNOWN: f"Nobody recorded whether {name} heats, cools or refrigerates.",
    }[finding.verdict]
    if data["across"] is None:
        across = "not recorded"
    else:
        across = length(data["across"], imperial)
    working = (
        f"receptacles in its room: {listed(data['here']) or 'none'}; across the room: {across}",
        f"receptacles elsewhere on its level: {data['level']}",
    )
    remedy = {
        Verdict.SHORT: "Add a receptacle near the equipment.",
        Verdict.LOOK: "Measure to the nearest, or add one beside the equipment.",
        Verdict.UNKNOWN: "Record it.",
    }.get(finding.verdict, "")
    figure = listed(data["here"]) or "none in its room"
    return FindingWords(says, figure, limit, working, remedy)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles for servicing equipment",
    tell=tell,
    tapes=(
        Tape(
            "from the equipment to the receptacle",
            Comparator.AT_MOST,
            "within_mm",
            held_in("within"),
        ),
    ),
)
def equipment_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Heating, cooling and refrigerating equipment has a receptacle near it, on its level.

    One in the same room is near enough when no two points of the room are farther apart.
    """
    limit = site.rulebook.get(f"{NAME}.within_mm")
    if limit is None:
        return
    for appliance in site.house.appliances:
        if appliance.heats_or_cools_air is not False:
            yield _appliance(this, site, appliance, limit.value)


def _appliance(this: Rule, site: HouseByCode, appliance: Appliance, within: float) -> Finding:
    room = site.rooms[appliance.room]
    here = _general_boxes(site, room)
    level = 0
    for other in site.house.rooms:
        if other.storey == room.storey and other.id != room.id:
            level += len(_general_boxes(site, other))
    across = _across(site, room)
    verdict = Verdict.SHORT
    if here and across is not None and across <= within + EPSILON:
        verdict = Verdict.MEETS
    elif appliance.heats_or_cools_air is None:
        verdict = Verdict.UNKNOWN
    elif here or level:
        verdict = Verdict.LOOK
    data = {
        "name": appliance.name,
        "here": here,
        "level": level,
        "across": across,
        "within": within,
    }
    spot = site.free_spot(room, appliance.name)
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, appliance.id, verdict, spot, data, limits)


def _general_boxes(site: HouseByCode, room: Room) -> list[str]:
    """The boxes of a room with a receptacle for general use."""
    boxes = []
    for box in site.receptacles_in[room.id]:
        if for_general_use(box):
            boxes.append(box.id)
    return boxes


def _across(site: HouseByCode, room: Room) -> float | None:
    """The greatest distance between two corners; None where the walls do not close."""
    if not room.walls or not room.closed:
        return None
    corners = site.lines[room.id].corners()
    spans = []
    for a, b in corners:
        for c, d in corners:
            spans.append(hypot(a - c, b - d))
    return max(spans)
