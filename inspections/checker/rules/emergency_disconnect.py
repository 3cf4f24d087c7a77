"""A disconnect outdoors for those who come to help."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.service_panel import (
    at_service,
    panel_not_recorded,
    service_panel,
    working_line,
)

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.grounding import DisconnectPlace
from ..site import HouseByCode

NAME = "emergency-disconnect"
SAYS = {
    DisconnectPlace.OUTDOORS: message(f"{NAME}.ok", "Emergency disconnect is outdoors."),
    DisconnectPlace.INDOORS: message(
        f"{NAME}.wrong", "Emergency disconnect is indoors; it must be outdoors."
    ),
}
MISSING = message(f"{NAME}.missing", "where the emergency disconnect is")
REMEDY = message(f"{NAME}.remedy", "Install a marked disconnect outside, within easy reach.")


@dataclass(frozen=True, slots=True)
class EmergencyDisconnectFacts:
    """Where the service is cut off; None when that is not recorded."""

    place: DisconnectPlace | None


def tell(finding: Finding) -> FindingWords:
    """Where the disconnect is."""
    facts: EmergencyDisconnectFacts = finding.facts
    if facts.place is None:
        return panel_not_recorded((MISSING(),))
    return working_line(finding, SAYS[facts.place](), REMEDY())


@rule(
    NAME,
    topic="grounding",
    title="Emergency disconnect",
    tell=tell,
    scope=Scope.WIRING,
    facts=EmergencyDisconnectFacts,
)
def emergency_disconnect(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Whoever comes to help can cut off a dwelling from outdoors, where the edition requires it."""
    limit, panel = site.rulebook.get(f"{NAME}.outdoors"), service_panel(site)
    if limit is None or not limit.value or panel is None:
        return
    grounding = site.house.grounding
    place = None
    if grounding:
        place = grounding.disconnect
    fits = None
    if place is not None:
        fits = place is DisconnectPlace.OUTDOORS
    yield at_service(this, site, panel, fits, EmergencyDisconnectFacts(place), limit)
