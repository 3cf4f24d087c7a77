"""A receptacle for whoever services heating, cooling or refrigerating equipment."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from config.messages.message import Length, Listed, Rounding, Value, message
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.asking.receptacles import for_general_use
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Verdict, rule
from ..house.power import Appliance
from ..house.rooms import Room
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode

NAME = "equipment-receptacles"
NEAR = message(
    f"{NAME}.near", "This room has a receptacle and is {across} across; {limit} maximum."
)
NONE = message(f"{NAME}.none", "No receptacle on this level; 1 required within {limit}.")
ADD = message(f"{NAME}.remedy", "Add one near the equipment.")
WITHIN = message(f"{NAME}.verify", "A receptacle on this level is within {limit} of the equipment.")
TO_HERE = message(
    f"{NAME}.verify.here", "Measure from the equipment to the nearest one in this room."
)
TO_NEAREST = message(
    f"{NAME}.verify.elsewhere", "Measure to the nearest on this level, or add one in this room."
)
CONDITIONS = message(f"{NAME}.conditions", "whether this equipment heats, cools or refrigerates")
NAMEPLATE = message(f"{NAME}.conditions.remedy", "Read its nameplate and record it.")
HERE = message(f"{NAME}.here", "receptacles in this room: {boxes}")
NONE_HERE = message(f"{NAME}.none-here", "no receptacle for general use in this room")
LEVEL = message(
    f"{NAME}.level",
    "{n} boxes with a receptacle elsewhere on this level",
    one="{n} box with a receptacle elsewhere on this level",
)
ACROSS = message(f"{NAME}.across", "this room, corner to corner: {across}")
WALLS = message(f"{NAME}.walls", "the walls of this room")


@dataclass(frozen=True, slots=True)
class EquipmentFacts:
    """Equipment, and the receptacles for general use in its room and on its level."""

    here: frozenset[str]
    elsewhere: int
    """Boxes with one in other rooms of its level."""
    across_mm: float | None
    """The greatest distance within its room; None where its walls do not close."""
    within_mm: float
    conditions_air: bool | None
    """Whether it heats, cools or refrigerates."""


def tell(finding: Finding) -> FindingWords:
    """The equipment and the receptacles on its level."""
    facts: EquipmentFacts = finding.facts
    limit = Length(facts.within_mm, Rounding.DOWN)
    working = tuple(_working(facts, finding.verdict))
    match finding.verdict:
        case Verdict.OK:
            across = Length(facts.across_mm or 0.0, Rounding.DOWN)
            says = NEAR(across=across, limit=limit)
            return FindingWords(says, across, limit, working)
        case Verdict.NOT_TO_CODE:
            return FindingWords(NONE(limit=limit), "", limit, working, ADD())
        case Verdict.INFO_NEEDED:
            says = NOT_RECORDED(what=Listed((CONDITIONS(),)))
            return FindingWords(says, "", limit, working, NAMEPLATE())
    remedy = TO_NEAREST()
    if facts.here:
        remedy = TO_HERE()
    return FindingWords(WITHIN(limit=limit), "", limit, working, remedy)


def _working(facts: EquipmentFacts, verdict: Verdict) -> list[Value]:
    lines: list[Value] = [NONE_HERE()]
    if facts.here:
        lines = [HERE(boxes=ids_listed(facts.here))]
    lines.append(LEVEL(n=facts.elsewhere))
    if facts.here and facts.across_mm is not None:
        side = Rounding.UP
        if verdict is Verdict.OK:
            side = Rounding.DOWN
        lines.append(ACROSS(across=Length(facts.across_mm, side)))
    elif facts.here:
        lines.append(STILL_MISSING(what=WALLS()))
    if facts.conditions_air is None and verdict is not Verdict.INFO_NEEDED:
        lines.append(EITHER_WAY(what=CONDITIONS()))
    return lines


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles for servicing equipment",
    tell=tell,
    facts=EquipmentFacts,
    tapes=(
        Tape(
            "from the equipment to the receptacle",
            Comparator.AT_MOST,
            "within_mm",
            held_in("within_mm"),
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
    verdict = Verdict.NOT_TO_CODE
    if here and across is not None and across <= within + EPSILON:
        verdict = Verdict.OK
    elif appliance.heats_or_cools_air is None:
        verdict = Verdict.INFO_NEEDED
    elif here or level:
        verdict = Verdict.VERIFY
    facts = EquipmentFacts(frozenset(here), level, across, within, appliance.heats_or_cools_air)
    spot = site.free_spot(room, appliance.name)
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, appliance.id, verdict, spot, facts, limits)


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
