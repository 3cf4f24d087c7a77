"""A neutral conductor at each light switch."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.fixing import figure
from inspections.checker.asking.lines import MOST_NAMED, ids_listed, in_order
from inspections.checker.asking.points import NOT_RECORDED, RECORD
from inspections.checker.asking.visual import COUNTED, PartKind
from inspections.checker.graph.lights import switches_of
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.spot import BOX

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.cables import CableKind
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "switch-neutrals"
LOOP = message(
    f"{NAME}.loop", "Switch box {box} has a neutral: {has} insulated conductors, {needs} required."
)
THROUGH = message(f"{NAME}.through", "Switch box {box} has a neutral: the feed passes through it.")
RACEWAY = message(f"{NAME}.raceway", "Switch box {box} has a raceway to pull a neutral through.")
NONE = message(
    f"{NAME}.none", "No neutral at switch box {box}: {has} insulated conductors, {needs} required."
)
ELSEWHERE = message(
    f"{NAME}.elsewhere", "No neutral at switch box {box}; there is one at {others}."
)
CABLES = message(f"{NAME}.cables", "the cables of switch box {box}")
PULL = message(f"{NAME}.none.remedy", "Pull a cable with a neutral.")
VERIFY = message(
    f"{NAME}.elsewhere.remedy", "Verify that the whole floor is in view from all these switches."
)
LIGHTS = message(f"{NAME}.lights", "lights switched here: {lights}")
COUNT = message(
    f"{NAME}.count", "2 for the feed and the neutral + {legs} for the switches = {needs} conductors"
)


FEED = 2
"""The feed and the neutral."""


class NeutralWay(StrEnum):
    """How a neutral may come to a switch box."""

    THROUGH = "through"
    RACEWAY = "raceway"
    LOOP = "loop"
    NONE = "none"
    """No cable is recorded there yet."""


class SwitchFeed(NamedTuple):
    """What comes to a switch box: how, the insulated conductors of a loop that ends there, and
    how many it needs for its switches and a neutral."""

    way: NeutralWay
    has: int
    needs: int

    @property
    def neutral(self) -> bool:
        """Whether a neutral is there, or can be drawn later."""
        if self.way is NeutralWay.LOOP:
            return self.has >= self.needs
        return self.way is not NeutralWay.NONE


@dataclass(frozen=True, slots=True)
class SwitchNeutralFacts:
    """A switch box, what comes to it, and the boxes with a neutral that turn on the same light."""

    box: str
    way: NeutralWay
    has: int
    needs: int
    others: frozenset[str]
    lights: frozenset[str]


def tell(finding: Finding) -> FindingWords:
    """How the neutral comes to the switch, or that it does not."""
    facts: SwitchNeutralFacts = finding.facts
    working: list[Value] = [LIGHTS(lights=ids_listed(facts.lights))]
    figure: Value = ""
    limit: Value = ""
    if facts.way is NeutralWay.LOOP:
        figure, limit = facts.has, facts.needs
        working.append(COUNT(legs=facts.needs - FEED, needs=facts.needs))
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = PULL()
    elif finding.verdict is Verdict.VERIFY:
        remedy = VERIFY()
    elif finding.verdict is Verdict.INFO_NEEDED:
        remedy = RECORD()
    says = _says(facts, finding.verdict)
    return FindingWords(says, figure, limit, tuple(working), remedy)


def _says(facts: SwitchNeutralFacts, verdict: Verdict) -> Text:
    box = facts.box
    if verdict is Verdict.NOT_TO_CODE:
        return NONE(box=box, has=facts.has, needs=facts.needs)
    if verdict is Verdict.VERIFY:
        return ELSEWHERE(box=box, others=_boxes(facts.others))
    match facts.way:
        case NeutralWay.LOOP:
            return LOOP(box=box, has=facts.has, needs=facts.needs)
        case NeutralWay.THROUGH:
            return THROUGH(box=box)
        case NeutralWay.RACEWAY:
            return RACEWAY(box=box)
        case NeutralWay.NONE:
            return NOT_RECORDED(what=CABLES(box=box))


def _boxes(names: frozenset[str]) -> Value:
    """Boxes by their ids_listed; of many the count."""
    if len(names) > MOST_NAMED:
        return COUNTED[PartKind.BOX](n=len(names))
    return Listed(tuple(BOX(box=name) for name in in_order(names)))


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The loop pulled with as many conductors as it needs."""
    facts = finding.facts
    if finding.verdict is not Verdict.NOT_TO_CODE:
        return
    for cable in house.cables:
        if facts.box in cable.ends and cable.kind.carries_power:
            yield figure(("cables", cable.id, "insulated"), least=facts.needs)


@rule(
    NAME,
    topic="switching",
    title="Neutral at switches",
    tell=tell,
    scope=Scope.WIRING,
    facts=SwitchNeutralFacts,
    fixes=_fixes,
)
def switch_neutrals(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box with a light switch has a neutral, so that a control which needs one can replace it.

    Where the feed passes through the box the neutral does. A loop that ends there needs one
    more conductor than its switches use. A raceway will do, and where several switches turn on
    one light in full view of each, one of them.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.asked"):
        return
    limits = tuple(book.limits_of(NAME))
    rooms = book.value(f"{NAME}.rooms")
    for box in site.house.boxes:
        lights = site.lights.switched_by(box.id)
        serves = []
        for name in lights:
            if _serves(site, name, rooms):
                serves.append(name)
        if serves:
            verdict, facts = _judge(site, box, serves)
            yield Finding(this, box.id, verdict, site.box_spot(box), facts, limits)


def _serves(site: HouseByCode, name: str, rooms: list[RoomKind] | None) -> bool:
    """Whether it is a light, of a room that the code names."""
    box = site.boxes[name]
    if all(device.kind is not DeviceKind.LUMINAIRE for device in box.devices):
        return False
    return rooms is None or site.rooms[box.room].kind in rooms


def _judge(site: HouseByCode, box: Box, lights: list[str]) -> tuple[Verdict, SwitchNeutralFacts]:
    feed = neutral_at(site, box)
    others: frozenset[str] = frozenset()
    verdict = Verdict.OK
    if feed.way is NeutralWay.NONE:
        verdict = Verdict.INFO_NEEDED
    elif not feed.neutral:
        others = frozenset(_others(site, box, lights[0]))
        verdict = Verdict.VERIFY if others else Verdict.NOT_TO_CODE
    return verdict, SwitchNeutralFacts(box.id, *feed, others, frozenset(lights))


def _others(site: HouseByCode, box: Box, light: str) -> Iterator[str]:
    """The other boxes that turn on a light and have a neutral."""
    for switcher in site.lights.switchers(light):
        if switcher.box != box.id and neutral_at(site, site.boxes[switcher.box]).neutral:
            yield switcher.box


def neutral_at(site: HouseByCode, box: Box) -> SwitchFeed:
    """How a neutral may come to a switch box."""
    cables = []
    for entry in site.wiring.power_at(box.id):
        if not entry.passes:
            cables.append(entry.cable)
    needs = FEED + sum(device.ways - 1 for device in switches_of(box))
    if not cables:
        return SwitchFeed(NeutralWay.NONE, 0, needs)
    if any(cable.kind is CableKind.RACEWAY for cable in cables):
        return SwitchFeed(NeutralWay.RACEWAY, 0, needs)
    if len(cables) > 1:
        return SwitchFeed(NeutralWay.THROUGH, 0, needs)
    return SwitchFeed(NeutralWay.LOOP, cables[0].insulated, needs)
