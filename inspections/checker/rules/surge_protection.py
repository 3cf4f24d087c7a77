"""A surge-protective device at the service."""

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
from ..site import HouseByCode

NAME = "surge-protection"
SAYS = {
    True: message(f"{NAME}.ok", "The service has a surge-protective device."),
    False: message(f"{NAME}.wrong", "The service has no surge-protective device; one is required."),
}
MISSING = message(f"{NAME}.missing", "whether the service has a surge-protective device")
REMEDY = message(f"{NAME}.remedy", "Install a Type 1 or 2 in or next to the panel.")


@dataclass(frozen=True, slots=True)
class SurgeProtectionFacts:
    """Whether the device is there; None when that is not recorded."""

    fitted: bool | None


def tell(finding: Finding) -> FindingWords:
    """Whether the device is there."""
    facts: SurgeProtectionFacts = finding.facts
    if facts.fitted is None:
        return panel_not_recorded((MISSING(),))
    return working_line(finding, SAYS[facts.fitted](), REMEDY())


@rule(
    NAME,
    topic="grounding",
    title="Surge protection",
    tell=tell,
    scope=Scope.WIRING,
    facts=SurgeProtectionFacts,
)
def surge_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service of a dwelling has a surge-protective device, where the edition requires one."""
    limit, panel = site.rulebook.get(f"{NAME}.fitted"), service_panel(site)
    if limit is None or not limit.value or panel is None:
        return
    grounding = site.house.grounding
    fitted = None
    if grounding:
        fitted = grounding.surge_protection
    yield at_service(this, site, panel, fitted, SurgeProtectionFacts(fitted), limit)
