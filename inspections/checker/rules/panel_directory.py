"""A directory in each panel."""

from collections.abc import Iterator

from inspections.checker.asking.service_panel import power_panels

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import listed, plural

NAME = "panel-directory"


def tell(finding: Finding) -> FindingWords:
    """The circuits that the directory names."""
    circuits = finding.facts["circuits"]
    return FindingWords(
        f"Look at the directory of panel {finding.facts['panel']}: it names every circuit clearly.",
        "not seen yet",
        "every circuit by what it feeds, spare spaces too",
        (f"{plural(len(circuits), 'circuit')}: {listed(circuits) or 'none'}",),
        "Fill it in by what each breaker feeds, and tick.",
    )


@rule(
    NAME,
    topic="panel",
    title="Directory of the panel",
    tell=tell,
    stage="finish",
    scope=Scope.WIRING,
)
def panel_directory(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A directory at the panel says what each breaker feeds, so that anybody finds it."""
    limit = site.rulebook.get(f"{NAME}.legible")
    if limit is None or not limit.value:
        return
    for panel in power_panels(site):
        names = []
        for c in site.house.circuits:
            if c.panel == panel.id:
                names.append(c.name)
        data = {"panel": panel.id, "circuits": names}
        yield Finding(this, panel.id, Verdict.LOOK, site.panel_spot(panel), data, (limit,))
