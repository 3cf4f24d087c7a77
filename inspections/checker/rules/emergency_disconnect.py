"""A disconnect outdoors for those who come to help."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import at_service, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.grounding import DisconnectPlace
from ..site import HouseByCode

NAME = "emergency-disconnect"


def tell(finding: Finding) -> FindingWords:
    """Where the disconnect is."""
    figure = finding.facts["place"] or "not recorded"
    says = {
        Verdict.MEETS: "The service can be cut off outdoors.",
        Verdict.SHORT: "The service can be cut off only indoors.",
        Verdict.UNKNOWN: "Nobody recorded where the service can be cut off.",
    }
    remedies = {
        Verdict.SHORT: "Fit a marked disconnect outdoors, within easy reach.",
        Verdict.UNKNOWN: "Look and record it.",
    }
    working = (f"emergency disconnect: {figure}",)
    return verdict_words(finding, figure, "outdoors, in reach, marked", working, says, remedies)


@rule(NAME, topic="grounding", title="Emergency disconnect", tell=tell, scope=Scope.WIRING)
def emergency_disconnect(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Whoever comes to help can cut off a dwelling from outdoors, where the edition asks so."""
    limit, panel = site.rulebook.get(f"{NAME}.outdoors"), service_panel(site)
    if limit is None or not limit.value or panel is None:
        return
    grounding = site.house.grounding
    place = None
    if grounding:
        place = grounding.disconnect
    if place is None:
        fits = None
    else:
        fits = place is DisconnectPlace.OUTDOORS
    data = {"place": place.value if place else None}
    yield at_service(this, site, panel, fits, data, limit)
