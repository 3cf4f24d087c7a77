"""A directory in each panel."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Listed, Value, message
from inspections.checker.asking.lines import in_order
from inspections.checker.asking.service_panel import power_panels
from inspections.checker.asking.visual import HERE

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode

NAME = "panel-directory"
VERIFY = message(
    f"{NAME}.verify", "The directory in panel {panel} clearly names every circuit and spare space."
)
CIRCUITS = message(f"{NAME}.circuits", "{n} circuits", one="{n} circuit")
WORKING = message(
    f"{NAME}.working", "circuits of the panel: {circuits}", one="circuit of the panel: {circuits}"
)
NONE = message(f"{NAME}.none", "no circuit is recorded on it")
REMEDY = message(f"{NAME}.remedy", "Write in what each breaker feeds.")


@dataclass(frozen=True, slots=True)
class PanelDirectoryFacts:
    """A panel and the circuits that its directory is to name."""

    panel: str
    circuits: frozenset[str]


def tell(finding: Finding) -> FindingWords:
    """The circuits that the directory names."""
    facts: PanelDirectoryFacts = finding.facts
    says: Value = VERIFY(panel=facts.panel)
    line = NONE()
    n = len(facts.circuits)
    if n:
        says = HERE(checks=says, parts=CIRCUITS(n=n))
        ordered = in_order(facts.circuits)
        line = WORKING(circuits=Listed(ordered), n=n)
    return FindingWords(says, working=(line,), remedy=REMEDY())


@rule(
    NAME,
    topic="panel",
    title="Panel directory",
    tell=tell,
    stage="finish",
    scope=Scope.WIRING,
    facts=PanelDirectoryFacts,
    workmanship=True,
)
def panel_directory(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A directory at the panel says what each breaker feeds, so that anybody finds it."""
    limit = site.rulebook.get(f"{NAME}.legible")
    if limit is None or not limit.value:
        return
    for panel in power_panels(site):
        circuits = set()
        for circuit in site.house.circuits:
            if circuit.panel == panel.id:
                circuits.add(circuit.id)
        facts = PanelDirectoryFacts(panel.id, frozenset(circuits))
        yield Finding(this, panel.id, Verdict.VERIFY, site.panel_spot(panel), facts, (limit,))
