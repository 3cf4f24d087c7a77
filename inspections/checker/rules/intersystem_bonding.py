"""A place where other systems are bonded."""

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

NAME = "intersystem-bonding"
SAYS = message(
    f"{NAME}.says",
    "Intersystem bonding termination has {found} terminals; {required} required.",
    one="Intersystem bonding termination has {found} terminal; {required} required.",
    count="found",
)
NONE = message(
    f"{NAME}.none",
    "No intersystem bonding termination; {required} terminals required.",
    one="No intersystem bonding termination; {required} terminal required.",
    count="required",
)
MISSING = message(f"{NAME}.missing", "how many terminals the intersystem bonding termination has")
REMEDY = message(f"{NAME}.remedy", "Install a larger one outside the service enclosure.")
INSTALL = message(f"{NAME}.install", "Install one outside the service enclosure.")
COUNT = message(f"{NAME}.count", "Count and record them.")


@dataclass(frozen=True, slots=True)
class IntersystemBondingFacts:
    """Terminals for the bonding conductors of other systems; None when they are not recorded."""

    found: int | None
    required: int


def tell(finding: Finding) -> FindingWords:
    """The terminals there are."""
    facts: IntersystemBondingFacts = finding.facts
    if facts.found is None:
        return panel_not_recorded((MISSING(),), facts.required, remedy=COUNT())
    if facts.found == 0 and facts.required > 0:
        none = NONE(required=facts.required)
        return working_line(finding, none, INSTALL(), facts.found, facts.required)
    says = SAYS(found=facts.found, required=facts.required)
    return working_line(finding, says, REMEDY(), facts.found, facts.required)


@rule(
    NAME,
    topic="grounding",
    title="Intersystem bonding",
    tell=tell,
    scope=Scope.WIRING,
    facts=IntersystemBondingFacts,
)
def intersystem_bonding(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Telephone, cable and antenna systems find a place at the service to be bonded."""
    limit, panel = site.rulebook.get(f"{NAME}.terminals"), service_panel(site)
    if limit is None or panel is None:
        return
    grounding = site.house.grounding
    found = None
    if grounding:
        found = grounding.intersystem_terminals
    fits = None
    if found is not None:
        fits = found >= limit.value
    yield at_service(this, site, panel, fits, IntersystemBondingFacts(found, limit.value), limit)
