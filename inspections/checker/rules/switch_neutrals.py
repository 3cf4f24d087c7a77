"""A neutral conductor at each light switch."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.graph.lights import switches_of

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.cables import CableKind
from ..site import HouseByCode
from ..words import listed, plural

NAME = "switch-neutrals"


def tell(finding: Finding) -> FindingWords:
    """How the neutral comes to the switch, or that it does not."""
    data = finding.facts
    says = {
        Verdict.MEETS: "A neutral is at this switch.",
        Verdict.SHORT: "No neutral is at this switch: the cable has none to spare.",
        Verdict.LOOK: f"No neutral is here; one is at {listed(data['others'])}.",
        Verdict.UNKNOWN: "Nobody recorded the cables of this switch.",
    }[finding.verdict]
    figure = WAYS[data["way"]].format(has=data["has"], needs=data["needs"])
    remedy = {
        Verdict.SHORT: f"Run a cable with {plural(data['needs'], 'insulated conductor')}.",
        Verdict.LOOK: "See that the whole floor is in view from every one of these switches.",
        Verdict.UNKNOWN: "Record the cables that end at it.",
    }.get(finding.verdict, "")
    working = (f"lights: {listed(data['lights'])}", figure)
    return FindingWords(says, figure, "a neutral", working, remedy)


WAYS = {
    "through": "the feed to the light passes through the box, neutral and all",
    "raceway": "a raceway, through which one may be drawn later",
    "loop": "a loop of {has} insulated conductors; {needs} with a neutral",
    "none": "not recorded",
}


@rule(NAME, topic="switching", title="Neutral at switches", tell=tell, scope=Scope.WIRING)
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
            verdict, data = _judge(site, box, serves)
            yield Finding(this, box.id, verdict, site.box_spot(box), data, limits)


def _serves(site: HouseByCode, name: str, rooms: Any) -> bool:
    """Whether it is a light, of a room that the code names."""
    box = site.boxes[name]
    kinds = set()
    for device in box.devices:
        kinds.add(device.kind.value)
    return "luminaire" in kinds and (rooms is None or site.rooms[box.room].kind in rooms)


def _judge(site: HouseByCode, box: Box, lights: list[str]) -> tuple[Verdict, dict[str, Any]]:
    way, has, needs = neutral_at(site, box)
    others: list[str] = []
    verdict = Verdict.MEETS
    if way == "none":
        verdict = Verdict.UNKNOWN
    elif way == "loop" and has < needs:
        boxes = []
        for switcher in site.lights.switchers(lights[0]):
            if switcher.box != box.id and _has_one(site, site.boxes[switcher.box]):
                boxes.append(switcher.box)
        others = sorted(boxes)
        verdict = Verdict.SHORT
        if others:
            verdict = Verdict.LOOK
    return verdict, {"way": way, "has": has, "needs": needs, "others": others, "lights": lights}


def _has_one(site: HouseByCode, box: Box) -> bool:
    way, has, needs = neutral_at(site, box)
    return way in ("through", "raceway") or (way == "loop" and has >= needs)


def neutral_at(site: HouseByCode, box: Box) -> tuple[str, int, int]:
    """How a neutral may come to a switch box: by what way, the insulated conductors of a loop
    that ends there, and how many it needs for its switches and a neutral."""
    cables = []
    for entry in site.wiring.power_at(box.id):
        if not entry.passes:
            cables.append(entry.cable)
    needs = 2 + sum(device.ways - 1 for device in switches_of(box))
    if not cables:
        return "none", 0, needs
    if any(cable.kind is CableKind.RACEWAY for cable in cables):
        return "raceway", 0, needs
    if len(cables) > 1:
        return "through", 0, needs
    return "loop", cables[0].insulated, needs
