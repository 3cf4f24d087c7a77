"""A panel in place with its cables brought in."""

from collections.abc import Iterator

from inspections.checker.asking.service_panel import power_panels

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import listed, plural

NAME = "panel-rough-in"


def tell(finding: Finding) -> FindingWords:
    """What to look at inside the panel before the walls close."""
    cables = finding.facts["cables"]
    asked = (
        "fixed in place, each cable through a connector with its sheath inside, conductors of "
        "each circuit grouped and long enough, bonding conductors on their bar, spare openings shut"
    )
    return FindingWords(
        f"Look into panel {finding.facts['panel']}: {asked}.",
        "not seen yet",
        asked,
        (f"{plural(len(cables), 'cable')} come in: {listed(cables) or 'none'}",),
        "Look and tick.",
    )


@rule(NAME, topic="panel", title="Panel made ready", tell=tell, scope=Scope.WIRING)
def panel_rough_in(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each panel stands where it stays, with its cables brought in and put in order.

    Two circuits on one neutral are grouped by a tie or by their sheath.
    """
    limit = site.rulebook.get(f"{NAME}.ready")
    if limit is None or not limit.value:
        return
    for panel in power_panels(site):
        cables = []
        for entry in site.wiring.power_at(panel.id):
            cables.append(entry.cable.id)
        data = {"panel": panel.id, "cables": cables}
        yield Finding(this, panel.id, Verdict.LOOK, site.panel_spot(panel), data, (limit,))
