"""Rooms in which no panel is allowed."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Listed, Value, message
from inspections.checker.asking.service_panel import power_panels

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.nouns import noun
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "panel-places"
SAYS = {
    Verdict.OK: message(f"{NAME}.ok", "Panel {panel} may be in this kind of room: {kind}."),
    Verdict.NOT_TO_CODE: message(
        f"{NAME}.wrong", "Panel {panel} is in a {kind}; not allowed there."
    ),
}
WORKING = message(f"{NAME}.working", "no panel allowed in: {barred}")
REMEDY = message(f"{NAME}.remedy", "Move it to another room.")


@dataclass(frozen=True, slots=True)
class PanelPlaceFacts:
    """The room of a panel, and the kinds of room that no panel may be in."""

    panel: str
    room: str
    kind: RoomKind
    barred: tuple[RoomKind, ...]


def tell(finding: Finding) -> FindingWords:
    """The room of the panel."""
    facts: PanelPlaceFacts = finding.facts
    kind = noun(facts.kind)
    barred = []
    for each in facts.barred:
        barred.append(noun(each))
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = REMEDY()
    return FindingWords(
        SAYS[finding.verdict](panel=facts.panel, kind=kind),
        working=(WORKING(barred=Listed(tuple(barred), "or")),),
        remedy=remedy,
    )


@rule(
    NAME,
    topic="panel",
    title="Panel location",
    tell=tell,
    scope=Scope.WIRING,
    facts=PanelPlaceFacts,
)
def panel_places(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Panels stay out of bathrooms, clothes closets and stairways.

    A panel needs a dry place, free of things that burn, that somebody in haste can reach.
    """
    limit = site.rulebook.get(f"{NAME}.not_in")
    if limit is None:
        return
    barred = []
    for kind in limit.value:
        barred.append(RoomKind(kind))
    for panel in power_panels(site):
        room = site.rooms[panel.room]
        verdict = Verdict.OK
        if room.kind in limit.value:
            verdict = Verdict.NOT_TO_CODE
        facts = PanelPlaceFacts(panel.id, room.id, room.kind, tuple(sorted(barred)))
        yield Finding(this, panel.id, verdict, site.panel_spot(panel), facts, (limit,))
