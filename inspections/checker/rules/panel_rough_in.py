"""A panel in place with its cables brought in."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Joined, Value, message
from inspections.checker.asking.service_panel import power_panels
from inspections.checker.asking.visual import COUNTED, HERE, PartKind
from inspections.checker.asking.wire_sizes import cables_named

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode

NAME = "panel-rough-in"
MOUNTED = message(f"{NAME}.mounted", "Panel {panel} is mounted.")
ENTERED = message(f"{NAME}.entered", "Cables enter through connectors, sheath inside.")
GROUPED = message(f"{NAME}.grouped", "Conductors are long enough, grouped by circuit.")
BARRED = {
    "NEC": message(f"{NAME}.grounds", "Equipment grounding conductors are on their bar."),
    "CEC": message(f"{NAME}.bonds", "Bonding conductors are on their bar."),
}
CLOSED = message(f"{NAME}.closed", "Unused knockouts are closed.")
WORKING = message(f"{NAME}.working", "brought in: {cables}")
NONE = message(f"{NAME}.none", "no cable is recorded at it")
REMEDY = message(f"{NAME}.remedy", "Verify before the walls close.")


@dataclass(frozen=True, slots=True)
class PanelRoughInFacts:
    """A panel and the cables that come into it."""

    panel: str
    cables: frozenset[str]


def tell(finding: Finding) -> FindingWords:
    """What to verify inside the panel before the walls close."""
    facts: PanelRoughInFacts = finding.facts
    checks = (
        MOUNTED(panel=facts.panel),
        ENTERED(),
        GROUPED(),
        BARRED[finding.code](),
        CLOSED(),
    )
    says: Value = Joined(checks)
    line = NONE()
    if facts.cables:
        says = HERE(checks=says, parts=COUNTED[PartKind.CABLE](n=len(facts.cables)))
        line = WORKING(cables=cables_named(facts.cables))
    return FindingWords(says, working=(line,), remedy=REMEDY())


@rule(
    NAME,
    topic="panel",
    title="Panel rough-in",
    tell=tell,
    scope=Scope.WIRING,
    facts=PanelRoughInFacts,
    workmanship=True,
)
def panel_rough_in(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each panel is mounted where it stays, with its cables brought in and put in order.

    Two circuits on one neutral are grouped by a tie or by their sheath.
    """
    limit = site.rulebook.get(f"{NAME}.ready")
    if limit is None or not limit.value:
        return
    for panel in power_panels(site):
        cables = set()
        for entry in site.wiring.power_at(panel.id):
            cables.add(entry.cable.id)
        facts = PanelRoughInFacts(panel.id, frozenset(cables))
        yield Finding(this, panel.id, Verdict.VERIFY, site.panel_spot(panel), facts, (limit,))
