"""A surge-protective device at the service."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import at_service, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode

NAME = "surge-protection"


def tell(finding: Finding) -> FindingWords:
    """Whether the device is there."""
    figure = {True: "fitted", False: "none", None: "not recorded"}[finding.facts["fitted"]]
    says = {
        Verdict.MEETS: "A surge-protective device is at the service.",
        Verdict.SHORT: "There is no surge-protective device at the service.",
        Verdict.UNKNOWN: "Nobody recorded whether a surge-protective device is at the service.",
    }
    remedies = {
        Verdict.SHORT: "Fit one of type 1 or 2 in the service panel or next to it.",
        Verdict.UNKNOWN: "Look and record it.",
    }
    working = (f"surge-protective device: {figure}",)
    return verdict_words(finding, figure, "one, of type 1 or 2", working, says, remedies)


@rule(NAME, topic="grounding", title="Surge protection", tell=tell, scope=Scope.WIRING)
def surge_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service of a dwelling has a surge-protective device, where the edition asks for one."""
    limit, panel = site.rulebook.get(f"{NAME}.fitted"), service_panel(site)
    if limit is None or not limit.value or panel is None:
        return
    grounding = site.house.grounding
    fitted = None
    if grounding:
        fitted = grounding.surge_protection
    yield at_service(this, site, panel, fitted, {"fitted": fitted}, limit)
