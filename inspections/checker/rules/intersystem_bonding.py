"""A place where other systems are bonded."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import at_service, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import plural

NAME = "intersystem-bonding"


def tell(finding: Finding) -> FindingWords:
    """The terminals there are."""
    data = finding.facts
    found, asked = data["found"], plural(data["asked"], "terminal")
    if found is None:
        figure = "not recorded"
    else:
        figure = plural(found, "terminal")
    says = {
        Verdict.MEETS: f"There are {figure} for the bonding of other systems.",
        Verdict.SHORT: f"There are {figure} for the bonding of other systems; {asked} asked.",
        Verdict.UNKNOWN: "Nobody recorded where other systems are bonded.",
    }
    remedies = {
        Verdict.SHORT: "Fit an intersystem bonding termination outside the service enclosure.",
        Verdict.UNKNOWN: "Look for it at the service and record its terminals.",
    }
    working = (f"terminals: {figure}; {asked} asked",)
    return verdict_words(finding, figure, f"at least {asked}", working, says, remedies)


@rule(NAME, topic="grounding", title="Intersystem bonding", tell=tell, scope=Scope.WIRING)
def intersystem_bonding(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Telephone, cable and antenna systems find a place at the service to be bonded."""
    limit, panel = site.rulebook.get(f"{NAME}.terminals"), service_panel(site)
    if limit is None or panel is None:
        return
    grounding = site.house.grounding
    found = None
    if grounding:
        found = grounding.intersystem_terminals
    if found is None:
        fits = None
    else:
        fits = found >= limit.value
    data = {"found": found, "asked": limit.value}
    yield at_service(this, site, panel, fits, data, limit)
